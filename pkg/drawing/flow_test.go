package drawing

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// small is a paper with 100 mm between the margins above the foot.
var small = Size{Wide: 100 + 2*Margin, Tall: 100 + 2*Margin + footTall}

// wordsOf are a page's lines, from top to bottom as they were put.
func wordsOf(page []Shape) []string {
	var out []string
	for _, s := range page {
		if t, ok := s.(Text); ok {
			out = append(out, t.Words)
		}
	}
	return out
}

// By the rule in Flow's comment: 60 + 40 mm fill the 100 mm, a tenth more does not fit.
func TestAPageEndsWhereTheNextThingDoesNotFit(t *testing.T) {
	f := NewFlow(small)
	assert.Equal(t, 100.0, f.Room())
	f.Y += 60
	assert.False(t, f.Need(40))
	assert.True(t, f.Need(40.1))
	assert.Equal(t, Margin, f.Y)
	assert.Equal(t, 2, f.Pages())
}

func TestNoPageStaysEmpty(t *testing.T) {
	f := NewFlow(small)
	assert.False(t, f.Need(1000), "taller than any page: drawn where it is")
	f.NewPage()
	f.NewPage()
	assert.Equal(t, 1, f.Pages())
}

// Lines of 10 mm: ten on each page, and a heading with the lines that it keeps goes
// to the next one rather than stand alone.
func TestAHeadingStaysWithWhatFollows(t *testing.T) {
	font := Font{Size: 10 / leading}
	f := NewFlow(small)
	f.Paragraph(font, strings.TrimSpace(strings.Repeat("W ", 9)), Margin, font.Width("W"))
	f.Heading(font, "Heading", 1*font.Line())
	f.Paragraph(font, "text", Margin, f.Width())
	pages := f.Document("t", "").Pages
	require.Len(t, pages, 2)
	assert.Len(t, pages[0], 9+3, "nine lines and the foot")
	assert.Equal(t, []string{"Heading", "text"}, wordsOf(pages[1])[:2])
}

func TestAnEndlessPageIsAsTallAsItsContent(t *testing.T) {
	f := NewFlow(Size{Wide: small.Wide})
	font := Font{Size: 5}
	for i := range 200 {
		f.Need(50)
		f.Paragraph(font, fmt.Sprint("line ", i), Margin, f.Width())
	}
	doc := f.Document("t", "")
	assert.Len(t, doc.Pages, 1)
	assert.InDelta(t, 200*5*1.32+2*Margin+footTall, doc.Paper.Tall, 1e-9)
}

func TestEachFootHasItsPagesNumber(t *testing.T) {
	f := NewFlow(small)
	for range 3 {
		f.Y += 90
		f.NewPage()
	}
	f.Y++
	pages := f.Document("t", strings.Repeat("a long foot ", 20)).Pages
	require.Len(t, pages, 4)
	for i, page := range pages {
		words := wordsOf(page)
		assert.Equal(t, fmt.Sprintf("page %d of 4", i+1), words[1])
		assert.True(t, strings.HasSuffix(words[0], " …"), "cut to one line")
	}
}

// table is n rows, each with remarks as tall as stated, in lines.
func table(n, remarkLines int) Table {
	font := Font{Size: 3}
	t := Table{Columns: []Column{{Head: "name", Share: 1}, {Head: "value", Group: "both", Share: 2}, {Head: "other", Group: "both", Share: 1}},
		Fonts: TableFonts{Head: font, Group: font, Cell: font, Remark: font}}
	for i := range n {
		r := TableRow{Cells: []Cell{{Text: fmt.Sprint("row ", i)}, {Text: "1"}, {Text: "2"}}}
		for range remarkLines {
			r.Remarks = append(r.Remarks, fmt.Sprint("remark ", i))
		}
		t.Rows = append(t.Rows, r)
	}
	return t
}

// Every page begins with the head, and a row's remarks stand on the row's page.
func TestATableRepeatsItsHeadAndKeepsRemarksWithTheirRow(t *testing.T) {
	f := NewFlow(small)
	f.Table(table(40, 2))
	pages := f.Document("t", "").Pages
	require.Greater(t, len(pages), 3)
	rows := 0
	for i, page := range pages {
		words := wordsOf(page)
		assert.Equal(t, []string{"both", "name", "value", "other"}, words[:4], "page %d", i+1)
		text := strings.Join(words, "\n")
		for j := range 40 {
			if strings.Contains(text, fmt.Sprintf("row %d\n", j)) {
				rows++
				assert.Equal(t, 2, strings.Count(text, fmt.Sprintf("remark %d\n", j)), "page %d, row %d", i+1, j)
			}
		}
	}
	assert.Equal(t, 40, rows)
}

// More remarks than KeptTogether go on over the page's end, below the head again.
func TestRemarksTallerThanAPageGoOn(t *testing.T) {
	f := NewFlow(small)
	f.Table(table(1, 60))
	pages := f.Document("t", "").Pages
	require.Greater(t, len(pages), 1)
	seen := 0
	for _, page := range pages {
		words := wordsOf(page)
		assert.Equal(t, "both", words[0])
		seen += strings.Count(strings.Join(words, "\n"), "remark 0")
	}
	assert.Equal(t, 60, seen)
}

// The columns share the 100 mm as 1 : 2 : 1, and a group's heading stands over its own.
func TestColumnsShareTheWidth(t *testing.T) {
	f := NewFlow(small)
	f.Table(table(1, 0))
	at := map[string]float64{}
	for _, s := range f.Document("t", "").Pages[0] {
		if words, ok := s.(Text); ok {
			at[words.Words] = words.X - Margin - pad
		}
	}
	for words, x := range map[string]float64{"name": 0, "value": 25, "other": 75, "both": 25, "row 0": 0, "2": 75} {
		assert.InDelta(t, x, at[words], 1e-9, words)
	}
}

// A Whole number too wide for its field is made smaller, down to what can be read,
// and only then broken.
func TestAWholeTextIsMadeSmallerBeforeItIsBroken(t *testing.T) {
	font := Font{Size: 3}
	tab := Table{Fonts: TableFonts{Head: font, Cell: font}}
	for words, want := range map[string]float64{"12": 3, "0.1234 ± 0.0056": 2.7, strings.Repeat("9", 40): smallestWhole * 3} {
		room := font.Width("0.1234 ± 0.0056") * 0.9
		block := tab.fields(TableRow{Cells: []Cell{{Text: words, Whole: true}}}, []float64{room + 2*pad})[0]
		assert.InDelta(t, want, block.Size, 1e-9, words)
		assert.Equal(t, len(words) > 20, len(block.Lines) > 1, words)
	}
}
