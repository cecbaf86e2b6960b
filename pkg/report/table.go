package report

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/width"
)

// Units are the unit that lengths are told in by WriteTable.
type Units string

// The units there are. JSON is always in millimetres.
const (
	Millimetres Units = "mm"
	Inches      Units = "in"
)

// mmPerInch is exact by definition.
const mmPerInch = 25.4

// From converts mm to the unit. Anything but Inches is millimetres.
func (u Units) From(mm float64) float64 {
	if u == Inches {
		return mm / mmPerInch
	}
	return mm
}

// Name is how the unit is written: "mm" or "in".
func (u Units) Name() string {
	if u == Inches {
		return string(Inches)
	}
	return string(Millimetres)
}

// column gap, and the indent of the sentences below a row.
const (
	columnGap = "  "
	rowIndent = "    "
)

// WriteTable writes the measurements for people: a row for each, columns
// aligned, and below a row its refusal and its warnings in full. A note at the
// end says what the columns mean. Numbers are rounded by Round; nothing is
// written for an empty list.
func WriteTable(w io.Writer, list []Measurement, units Units) error {
	if len(list) == 0 {
		return nil
	}
	rows := [][]string{headings(units)}
	for _, m := range list {
		rows = append(rows, cells(m, units))
	}
	widths := columnWidths(rows)
	var b strings.Builder
	writeRow(&b, rows[0], widths)
	for i, m := range list {
		writeRow(&b, rows[i+1], widths)
		writeRemarks(&b, m)
	}
	writeNote(&b, list)
	if _, err := io.WriteString(w, b.String()); err != nil {
		return fmt.Errorf("writing the table: %w", err)
	}
	return nil
}

func headings(units Units) []string {
	unit := " " + units.Name()
	return []string{"photo", "mark", "left/right" + unit, "up/down" + unit, "distance" + unit, "clock", "rings", "verdict"}
}

// cells are one row's. A mark without a number has only three.
func cells(m Measurement, units Units) []string {
	row := []string{oneLine(m.Photo.File), oneLine(m.Mark)}
	if m.Offset == nil {
		return append(row, notMeasured(m))
	}
	radius := 0.0
	if m.Uncertainty != nil {
		radius = m.Uncertainty.RadiusMM
	}
	o, u := m.Offset, units.From(radius)
	return append(row,
		Side(units.From(o.RightMM), u, "left", "right"),
		Side(units.From(o.UpMM), u, "down", "up"),
		Format(units.From(o.DistanceMM), u),
		oneLine(o.Clock),
		FormatValue(o.Rings, ringsRadius(o, radius)),
		verdict(m.Verdict, units))
}

// notMeasured names the refusal's code where the numbers would stand.
func notMeasured(m Measurement) string {
	if m.Refusal == nil {
		return oneLine(m.Status)
	}
	return oneLine(m.Status + ": " + m.Refusal.Code)
}

// Side tells a signed value in words, rounded to fit its uncertainty by Round:
// "0.440 left". Zero and what is no number have no side.
func Side(value, u float64, negative, positive string) string {
	text := FormatValue(math.Abs(value), u)
	switch {
	case strings.Trim(text, "0.") == "" || !finite(value):
		return text
	case value < 0:
		return text + " " + negative
	}
	return text + " " + positive
}

// ringsRadius is the uncertainty's radius in rings, near enough to know how
// many digits mean something: rings and distance grow in proportion up to the
// first ring and nearly so beyond.
func ringsRadius(o *Offset, radiusMM float64) float64 {
	return radiusMM * o.Rings / o.DistanceMM
}

// verdict tells the state and the limit; what is not clear has its probability.
func verdict(v *Verdict, units Units) string {
	if v == nil {
		return "-"
	}
	limit := strconv.FormatFloat(units.From(v.LimitMM), 'g', 3, 64) + " " + units.Name()
	switch v.State {
	case "inside", "outside":
		return v.State + " the limit of " + limit
	}
	return fmt.Sprintf("%s: %.0f %% likely inside %s", oneLine(v.State), 100*v.Probability, limit)
}

// writeRemarks writes the refusal's sentence and the warnings below a row.
func writeRemarks(b *strings.Builder, m Measurement) {
	if m.Refusal != nil {
		fmt.Fprintf(b, "%s%s\n", rowIndent, oneLine(m.Refusal.Text))
	}
	for _, warning := range m.Warnings {
		fmt.Fprintf(b, "%swarning (%s): %s\n", rowIndent, oneLine(warning.Code), oneLine(warning.Text))
	}
}

// writeNote explains the columns, when there is a number to explain.
func writeNote(b *strings.Builder, list []Measurement) {
	for _, m := range list {
		if m.Offset == nil || m.Uncertainty == nil {
			continue
		}
		fmt.Fprintf(b, "\nLeft, right, up, down and the clock are as you face the target with its index mark at the top (12:00).\n"+
			"The true place lies within ± of the one told, in any direction, in %.0f of 100 cases.\n"+
			"Rings: 0 is the centre, 1 is on the first ring, 2 on the second.\n", 100*m.Uncertainty.Coverage)
		return
	}
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

// oneLine keeps a file's name or another program's text from breaking the line
// or steering the terminal.
func oneLine(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsGraphic(r) {
			return r
		}
		return unicode.ReplacementChar
	}, text)
}
