package sheet

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/drawing/drawingtest"
	"burngauge.dev/burngauge/pkg/needs"
	"burngauge.dev/burngauge/pkg/plan"
)

// pdfOf writes the sheet into a file.
func pdfOf(t *testing.T, s Sheet) string { return drawingtest.File(t, "plan.pdf", s.WritePDF) }

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return v
}

// every is a sheet of each status, and one with long words everywhere.
func every() map[string]Sheet {
	beyond := example()
	beyond.Plan.Status = plan.StatusBeyond
	return map[string]Sheet{"turn": example(), "nothing": of(plan.StatusNothing), "fire": of(plan.StatusFire, "middle", "rear-left"),
		"beyond": beyond, "beyond, no turns": of(plan.StatusBeyond), "hostile": hostile(strings.Repeat("Wide", 60)), "flood": hostile(strings.Repeat("Wide and ", 40))}
}

// Nothing leaves the margins, and no two words lie on each other.
func TestNothingIsClippedOrOverprinted(t *testing.T) {
	for name, s := range every() {
		for _, s.Paper = range drawing.Papers() {
			drawingtest.NothingClippedOrOverprinted(t, pdfOf(t, s), margin, name+", "+s.Paper)
		}
	}
}

// Sizes: ISO 216 and 8.5 x 11 inches, in points of 1/72 inch.
func TestPapersAreOfTheirSize(t *testing.T) {
	needs.Program(t, "pdfinfo", "poppler-utils")
	for p, want := range map[string]string{"": `595\.2\d* x 841\.8\d* pts`, drawing.A4: `595\.2\d* x 841\.8\d* pts`, drawing.Letter: `612 x 792 pts`} {
		s := example()
		s.Paper = p
		assert.Regexp(t, want, drawingtest.Run(t, "pdfinfo", pdfOf(t, s)), p)
	}
}

// flat is text without blanks and line ends, which a layout puts in.
func flat(text string) string { return strings.Join(strings.Fields(text), "") }

// footPattern is a page's foot, which a page end puts into the middle of what is read.
var footPattern = regexp.MustCompile(`(?m)^(Screw plan · .*|page \d+ of \d+)$`)

// Terminal, PDF and SVG say the same.
func TestAllThreeSayTheSame(t *testing.T) {
	needs.Program(t, "pdftotext", "poppler-utils")
	for name, s := range every() {
		if name == "flood" || name == "hostile" {
			continue // broken words stand in another order in each
		}
		var terminal, svg bytes.Buffer
		require.NoError(t, s.WriteText(&terminal, false))
		require.NoError(t, s.WriteSVG(&svg))
		c := newWording(s)
		want := append([]string{c.Title, c.Headline, c.Lead}, append(c.Facts, c.Cautions...)...)
		want = append(append(want, c.Again.Words), c.Expect.Notes...)
		for _, st := range c.Steps {
			want = append(want, st.View)
		}
		for _, f := range c.Findings {
			want = append(want, f.Text, f.Evidence)
		}
		for _, r := range c.Expect.Rows {
			want = append(want, r.Cells...)
		}
		bullets := strings.NewReplacer("\n  - ", " ", "\n    ", " ")
		texts := map[string]string{"terminal": flat(bullets.Replace(terminal.String())), "SVG": flat(svgText(t, svg.Bytes())), "PDF": flat(footPattern.ReplaceAllString(drawingtest.Run(t, "pdftotext", "-raw", pdfOf(t, s), "-"), ""))}
		for form, text := range texts {
			for _, w := range want {
				assert.Contains(t, text, flat(w), "%s as %s", name, form)
			}
		}
	}
}

// svgText is the text of an SVG, which must be well-formed.
func svgText(t *testing.T, data []byte) string {
	t.Helper()
	var out strings.Builder
	for d := xml.NewDecoder(bytes.NewReader(data)); ; {
		token, err := d.Token()
		if err == io.EOF {
			return out.String()
		}
		require.NoError(t, err)
		if words, ok := token.(xml.CharData); ok {
			out.Write(words)
			out.WriteByte(' ')
		}
	}
}

func TestTheSVGIsWellFormedWhateverTheWords(t *testing.T) {
	s := hostile(`<script>&"'` + "\x00\xff")
	var b bytes.Buffer
	require.NoError(t, s.WriteSVG(&b))
	assert.NotContains(t, b.String(), "<script>")
	assert.NotEmpty(t, svgText(t, b.Bytes()))
}

func TestTheSamePlanGivesTheSameBytes(t *testing.T) {
	drawingtest.SameInAnotherProcess(t, func(w io.Writer) error {
		s := example()
		return errors.Join(s.WritePDF(w), s.WriteSVG(w), s.WriteText(w, true))
	})
}

// darkness is the share of dark pixels in a square of x, y plus or minus r, mm.
func darkness(picture image.Image, x, y, r float64) float64 {
	dark, all := 0.0, 0.0
	for py := int((y - r) * 5); py <= int((y+r)*5); py++ {
		for px := int((x - r) * 5); px <= int((x+r)*5); px++ {
			all++
			if v, _, _, _ := picture.At(px, py).RGBA(); v < 0x6000 {
				dark++
			}
		}
	}
	return dark / all
}

// On the rendered page, the screw to turn is black, the others are hollow, and
// each lies where the profile has it: right and up of the middle as seen from behind.
func TestTheScrewToTurnIsBlackWhereTheProfileHasIt(t *testing.T) {
	for turning, place := range map[string][2]float64{"A": {-18, 18}, "B": {18, 18}, "C": {-18, -18}} {
		s := example()
		s.Plan.Turns = []plan.Turn{{Mirror: "2", Screw: turning, Turns: 0.25}}
		pages, _, _ := drawingtest.Words(t, pdfOf(t, s))
		var letters = map[string]drawingtest.Word{}
		for _, w := range pages[0] {
			if len(w.Text) == 1 && strings.Contains("ABC", w.Text) && w.Left < (margin+drawnWide)*72/25.4 {
				letters[w.Text] = w
			}
		}
		require.Len(t, letters, 3)
		middle := func(w drawingtest.Word) (x, y float64) {
			return (w.Left + w.Right) / 2 * 25.4 / 72, (w.Top + w.Bottom) / 2 * 25.4 / 72
		}
		ax, ay := middle(letters["A"])
		bx, _ := middle(letters["B"])
		_, cy := middle(letters["C"])
		assert.Greater(t, bx-ax, 15.0, "B lies right of A")
		assert.Greater(t, cy-ay, 15.0, "C lies below A")
		picture := drawingtest.PDFPage(t, pdfOf(t, s), 127) // 5 px a mm
		for name, w := range letters {
			x, y := middle(w)
			if share := darkness(picture, x, y, 1.8); name == turning {
				assert.Greater(t, share, 0.5, "%s at %v", name, place)
			} else {
				assert.Less(t, share, 0.4, "%s beside %s", name, turning)
			}
		}
	}
}
