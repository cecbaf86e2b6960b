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

func TestCutsDoNotTouchEachOtherAndHoldTheBar(t *testing.T) {
	for _, spec := range printable() {
		_, shapes := shapesOf(t, spec, DefaultOptions())
		cut := cutDiameter(spec) / 2
		var cuts []drawing.Ellipse
		for _, s := range shapes {
			if c, ok := s.(drawing.Ellipse); ok && c.RX == cut {
				cuts = append(cuts, c)
			}
		}
		require.Len(t, cuts, newGrid(spec, drawing.PaperOr(drawing.A4)).fits())
		for i, a := range cuts {
			for _, b := range cuts[:i] {
				assert.Greater(t, math.Hypot(a.X-b.X, a.Y-b.Y), 2*cut)
			}
		}
		assert.GreaterOrEqual(t, cut, spec.OuterRadius()+spec.Index.ToMM, spec.Name)
	}
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
	assert.Equal(t, 16, newGrid(target.Default(), drawing.PaperOr(drawing.A4)).fits())
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
