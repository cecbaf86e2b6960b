package sheet

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/drawing/drawingtest"
	"burngauge.dev/burngauge/pkg/target"
	"burngauge.dev/burngauge/pkg/typeface"
)

// exact is for lengths that the SVG holds as numbers.
const exact = 1e-4

// printable is the built-in specs and some extreme ones.
func printable() []target.Spec {
	var out []target.Spec
	for _, name := range target.Names() {
		spec, _ := target.Builtin(name)
		out = append(out, spec)
	}
	many := target.Default()
	many.Name = strings.Repeat("W", 40)
	many.RingsMM = nil
	for d := 4.0; d <= 128; d += 4 {
		many.RingsMM = append(many.RingsMM, d)
	}
	tiny := target.Default()
	tiny.RingsMM, tiny.LineMM, tiny.CrossMM = []float64{1, 2.125}, 0.1, 0
	return append(out, many, tiny)
}

// box is what a shape covers on the page.
type box struct{ left, top, right, bottom float64 }

// extent of a shape; text by its ascent and descent, about 0.95 and 0.22 em in
// the Go fonts (hhea table: 1935 and -432 of 2048).
func extent(s drawing.Shape) box {
	switch s := s.(type) {
	case drawing.Ellipse:
		r := s.RX + s.Width/2
		return box{s.X - r, s.Y - r, s.X + r, s.Y + r}
	case drawing.Rectangle:
		return box{s.X, s.Y, s.X + s.Wide, s.Y + s.Tall}
	case drawing.Path:
		b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		for _, p := range s.Points {
			b = box{math.Min(b.left, p.X), math.Min(b.top, p.Y), math.Max(b.right, p.X), math.Max(b.bottom, p.Y)}
		}
		return b
	case drawing.Text:
		return box{s.X, s.Y - 0.95*s.Size, s.X + s.Width(), s.Y + 0.22*s.Size}
	}
	panic("unknown shape")
}

// shapesOf is the sheet's page.
func shapesOf(t *testing.T, spec target.Spec, opt Options) (drawing.Size, []drawing.Shape) {
	t.Helper()
	doc, err := layOut(spec, opt)
	require.NoError(t, err, spec.Name)
	require.Len(t, doc.Pages, 1)
	return doc.Paper, doc.Pages[0]
}

func (a box) meets(b box) bool {
	return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom
}

func TestNothingLeavesTheMarginsAndNoTextIsCovered(t *testing.T) {
	for _, spec := range printable() {
		for _, paper := range drawing.Papers() {
			page, shapes := shapesOf(t, spec, Options{Paper: paper})
			for i, s := range shapes {
				b := extent(s)
				require.True(t, b.left >= margin-exact && b.right <= page.Wide-margin+exact, "%s %s: %+v", spec.Name, paper, s)
				require.True(t, b.top >= margin-exact && b.bottom <= page.Tall-margin+exact, "%s %s: %+v", spec.Name, paper, s)
				if _, ok := s.(drawing.Text); !ok {
					continue
				}
				for j, other := range shapes {
					require.False(t, i != j && b.meets(extent(other)), "%s %s: %+v meets %+v", spec.Name, paper, s, other)
				}
			}
		}
	}
}

// By hand from what the sheet promises. The cut is the rim, or the next whole millimetre
// beyond 2 (corner + 1.5), with the bar's far corner at √((outer ring's radius + 3.2)² +
// 0.65²). A cell is as wide as the cut, but 36 mm at least for the words to write, and 14 mm
// taller; cells lie 5 mm apart at least. They have 210 - 2·12 = 186 mm (Letter 191.9) across
// and, from y = 47 to 5 mm above the footer of 38 mm, 297 - 12 - 38 - 5 - 47 = 195 mm (Letter
// 177.4) down. Four cells of 36 mm take 4·36 + 3·5 = 159 mm across, five 200: four columns.
// Rows of the plain target: 4·40 + 3·5 = 175 fit on both papers, 5·40 + 4·5 = 220 on neither.
func TestAsManyCutsAsFitDoNotTouchAndHoldTheBar(t *testing.T) {
	want := []struct {
		cut        float64
		a4, letter int
	}{
		{26, 16, 16}, // plain-4: corner 11.219; cells of 36 x 40
		{34, 12, 12}, // wide-3: corner 15.214; 36 x 48: 3 rows take 154, 4 rows 207
		{22, 16, 16}, // pair: corner 9.223; 36 x 36: 4 rows take 159, 5 rows 200
		{22, 16, 16}, // single: the same outer ring
		{26, 16, 16}, // rimmed: the rim
		{138, 1, 1},  // rings up to 128 mm: corner 67.203; 138 x 152, and two take 281
		{12, 24, 20}, // a ring of 2.125 mm: corner 4.312; 36 x 26: 5, 6, 7 rows take 150, 181, 212
	}
	specs := printable()
	require.Len(t, specs, len(want))
	for i, spec := range specs {
		for paper, count := range map[string]int{drawing.A4: want[i].a4, drawing.Letter: want[i].letter} {
			cuts := circlesOf(t, spec, Options{Paper: paper}, want[i].cut/2)
			assert.Len(t, cuts, count, "%s on %s", spec.Name, paper)
			for j, a := range cuts {
				for _, b := range cuts[:j] {
					assert.GreaterOrEqual(t, math.Hypot(a[0]-b[0], a[1]-b[1]), want[i].cut+5-exact, spec.Name)
				}
			}
		}
		corner := math.Hypot(spec.OuterRadius()+spec.Index.ToMM, spec.Index.WidthMM/2)
		assert.Greater(t, want[i].cut/2, corner, "%s: the bar lies inside the cut", spec.Name)
	}
}

// circlesOf are the centres of a drawn sheet's circles of that radius, mm.
func circlesOf(t *testing.T, spec target.Spec, opt Options, radius float64) (centres [][2]float64) {
	t.Helper()
	for _, e := range readSVG(t, spec, opt).Inside {
		if e.XMLName.Local == "circle" && math.Abs(e.number(t, "r")-radius) < exact {
			centres = append(centres, [2]float64{e.number(t, "cx"), e.number(t, "cy")})
		}
	}
	return centres
}

func TestSameSheetSameBytes(t *testing.T) {
	drawingtest.SameInAnotherProcess(t, func(w io.Writer) error {
		return errors.Join(PDF(w, target.Default(), DefaultOptions()), SVG(w, target.Default(), DefaultOptions()))
	})
}

// element is any SVG element with the attributes that are checked.
type element struct {
	XMLName xml.Name
	Attrs   []xml.Attr `xml:",any,attr"`
	Text    string     `xml:",chardata"`
	Inside  []element  `xml:",any"`
}

func (e element) attr(name string) string {
	for _, a := range e.Attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func (e element) number(t *testing.T, name string) float64 {
	v, err := strconv.ParseFloat(e.attr(name), 64)
	require.NoError(t, err, "%s of %s", name, e.XMLName.Local)
	return v
}

func readSVG(t *testing.T, spec target.Spec, opt Options) element {
	var b bytes.Buffer
	require.NoError(t, SVG(&b, spec, opt))
	var root element
	require.NoError(t, xml.Unmarshal(b.Bytes(), &root))
	return root
}

func TestSVGIsInMillimetresAndHoldsTheSpecsRings(t *testing.T) {
	spec, _ := target.Builtin("wide-3")
	root := readSVG(t, spec, Options{Paper: drawing.Letter, Count: 2})
	assert.Equal(t, "215.9mm", root.attr("width"))
	assert.Equal(t, "279.4mm", root.attr("height"))
	assert.Equal(t, "0 0 215.9 279.4", root.attr("viewBox"))
	var radii []float64
	stations := 0
	for _, e := range root.Inside {
		switch {
		case e.XMLName.Local == "circle" && e.attr("stroke") == "#000000":
			radii = append(radii, e.number(t, "r"))
			assert.InDelta(t, 0.45, e.number(t, "stroke-width"), exact)
		case e.Text == "Station":
			stations++
		}
	}
	assert.InDeltaSlice(t, []float64{3, 7, 12, 3, 7, 12}, radii, exact)
	assert.Equal(t, 2, stations)
}

func TestMarkupInANameStaysText(t *testing.T) {
	spec := target.Default()
	spec.Name = `a<b>&"'`
	root := readSVG(t, spec, DefaultOptions())
	require.Equal(t, "title", root.Inside[0].XMLName.Local)
	assert.Equal(t, "Ring targets: "+spec.Name, root.Inside[0].Text)
}

func TestNamesWithoutGlyphsAreStillPrinted(t *testing.T) {
	spec := target.Default()
	spec.Name = "靶 \U0001F3AF é"
	require.NoError(t, PDF(io.Discard, spec, DefaultOptions()))
	assert.Equal(t, "? ? é", typeface.Bold().Drawable(spec.Name))
}

func TestUnusableOptionsAreRefusedAndNothingIsWritten(t *testing.T) {
	huge := target.Default()
	huge.RingsMM = []float64{4, 200}
	cases := []struct {
		spec target.Spec
		opt  Options
		says string
	}{
		{target.Default(), Options{Paper: "a3"}, `no paper called "a3": choose a4 or letter`},
		{target.Default(), Options{}, "choose a4 or letter"},
		{target.Default(), Options{Paper: drawing.A4, Count: 17}, "at most 16"},
		{target.Default(), Options{Paper: drawing.A4, Count: -1}, "1 to 16"},
		{huge, Options{Paper: drawing.A4}, "does not fit"},
	}
	for _, c := range cases {
		for _, write := range []func(io.Writer, target.Spec, Options) error{PDF, SVG} {
			var b bytes.Buffer
			err := write(&b, c.spec, c.opt)
			var option *OptionError
			require.True(t, errors.As(err, &option), "%v", err)
			assert.Contains(t, err.Error(), c.says)
			assert.Zero(t, b.Len())
		}
	}
}

func TestFaultySpecsAreRefused(t *testing.T) {
	var fault *target.SpecError
	require.True(t, errors.As(PDF(io.Discard, target.Spec{Name: "empty"}, DefaultOptions()), &fault))
	assert.Equal(t, "rings_mm", fault.Key)
}

func TestPaperNamesMayBeCapitals(t *testing.T) {
	var capitals, small bytes.Buffer
	require.NoError(t, SVG(&capitals, target.Default(), Options{Paper: "A4"}))
	require.NoError(t, SVG(&small, target.Default(), Options{Paper: drawing.A4}))
	assert.Equal(t, small.String(), capitals.String())
}

// failing is a full disk.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

func TestAFailingWriterIsReported(t *testing.T) {
	assert.ErrorIs(t, PDF(failing{}, target.Default(), DefaultOptions()), io.ErrShortWrite)
	assert.ErrorIs(t, SVG(failing{}, target.Default(), DefaultOptions()), io.ErrShortWrite)
}
