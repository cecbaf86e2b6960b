package report

import (
	"strings"
	"unicode"

	"golang.org/x/text/width"
)

// column gap, and the indent of the sentences below a row.
const (
	columnGap = "  "
	rowIndent = "    "
)

// grid is rows of cells, the headings first, with sentences below some rows.
type grid struct {
	rows  [][]string
	below [][]string
}

// Columns is a table for a terminal: the headings, then the rows, each column as
// wide as its widest cell in a terminal's cells, East Asian letters counted double.
func Columns(headings []string, rows ...[]string) string {
	g := newGrid(headings)
	for _, row := range rows {
		g.add(row, nil)
	}
	var b strings.Builder
	g.write(&b)
	return b.String()
}

func newGrid(headings []string) *grid {
	return &grid{rows: [][]string{headings}, below: [][]string{nil}}
}

// add adds a row. One that is shorter than the headings runs on in its last cell.
func (g *grid) add(row, below []string) {
	g.rows, g.below = append(g.rows, row), append(g.below, below)
}

// write aligns the columns.
func (g *grid) write(b *strings.Builder) {
	widths := columnWidths(g.rows)
	for i, row := range g.rows {
		writeRow(b, row, widths)
		for _, line := range g.below[i] {
			b.WriteString(rowIndent + line + "\n")
		}
	}
}

// writeApart is write below what stands in b already, and nothing when there
// are only headings.
func (g *grid) writeApart(b *strings.Builder) {
	if len(g.rows) == 1 {
		return
	}
	if b.Len() > 0 {
		b.WriteByte('\n')
	}
	g.write(b)
}

// columnWidths are the widest cells. A short row's last cell runs on over the
// columns that it does not have.
func columnWidths(rows [][]string) []int {
	widths := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			if i < len(row)-1 || len(row) == len(widths) {
				widths[i] = max(widths[i], cellsWide(cell))
			}
		}
	}
	return widths
}

// writeRow pads all cells but the last.
func writeRow(b *strings.Builder, row []string, widths []int) {
	for i, cell := range row {
		b.WriteString(cell)
		if i < len(row)-1 {
			b.WriteString(strings.Repeat(" ", widths[i]-cellsWide(cell)) + columnGap)
		}
	}
	b.WriteByte('\n')
}

// cellsWide is how many cells of a terminal a text takes: two for East Asian
// wide characters (Unicode Standard Annex 11), none for combining marks.
func cellsWide(text string) int {
	total := 0
	for _, r := range text {
		switch kind := width.LookupRune(r).Kind(); {
		case unicode.In(r, unicode.Mn, unicode.Me):
		case kind == width.EastAsianWide || kind == width.EastAsianFullwidth:
			total += 2
		default:
			total++
		}
	}
	return total
}

// OneLine keeps a file's name or another program's text from breaking the line
// or steering the terminal.
func OneLine(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsGraphic(r) {
			return r
		}
		return unicode.ReplacementChar
	}, text)
}
