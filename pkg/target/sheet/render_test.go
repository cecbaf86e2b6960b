package sheet

import (
	"image"
	"image/draw"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/drawing/drawingtest"
	"burngauge.dev/burngauge/pkg/needs"
	"burngauge.dev/burngauge/pkg/target"
)

// The sheets are rendered by other people's programs at 300 dpi and measured in
// the pixels that come out.
const (
	dpi       = 300
	pxPerMM   = dpi / 25.4
	halfPixel = 0.5 / pxPerMM // mm, the tolerance of every length
)

// writePDF puts a sheet into a file and returns its path.
func writePDF(t *testing.T, spec target.Spec, opt Options) string {
	t.Helper()
	return drawingtest.File(t, "sheet.pdf", func(w io.Writer) error { return PDF(w, spec, opt) })
}

// renderPDF is the page by poppler.
func renderPDF(t *testing.T, spec target.Spec, opt Options) *image.Gray {
	t.Helper()
	return grey(drawingtest.PDFPage(t, writePDF(t, spec, opt), dpi))
}

// renderSVG is the page by librsvg.
func renderSVG(t *testing.T, spec target.Spec, opt Options) *image.Gray {
	t.Helper()
	path := drawingtest.File(t, "sheet.svg", func(w io.Writer) error { return SVG(w, spec, opt) })
	return grey(drawingtest.SVGPage(t, path, dpi))
}

// grey is a picture's brightness.
func grey(picture image.Image) *image.Gray {
	out := image.NewGray(picture.Bounds())
	draw.Draw(out, out.Bounds(), picture, picture.Bounds().Min, draw.Src)
	return out
}

// ink is the darkness, 0 to 1, at a place in mm, bilinear between pixel centres.
func ink(picture *image.Gray, x, y float64) float64 {
	px, py := x*pxPerMM-0.5, y*pxPerMM-0.5
	x0, y0 := math.Floor(px), math.Floor(py)
	fx, fy := px-x0, py-y0
	at := func(dx, dy int) float64 {
		return 1 - float64(picture.GrayAt(int(x0)+dx, int(y0)+dy).Y)/255
	}
	return (at(0, 0)*(1-fx)+at(1, 0)*fx)*(1-fy) + (at(0, 1)*(1-fx)+at(1, 1)*fx)*fy
}

// crossings are the distances from (x, y), in mm, of the middles of the black
// lines met in a direction (dx, dy of length 1), up to reach. What lies within
// 1 mm of the centre is left out: the cross.
func crossings(picture *image.Gray, x, y, dx, dy, reach float64) []float64 {
	const step = 0.01
	var out []float64
	weight, moment, deepest := 0.0, 0.0, 0.0
	for d := 1.0; d < reach; d += step {
		dark := ink(picture, x+d*dx, y+d*dy)
		if dark > 0.02 {
			weight, moment, deepest = weight+dark, moment+dark*d, math.Max(deepest, dark)
			continue
		}
		if deepest > 0.5 {
			out = append(out, moment/weight)
		}
		weight, moment, deepest = 0, 0, 0
	}
	return out
}

// lastCentre is where the layout says that the last cell's target is.
func lastCentre(t *testing.T, spec target.Spec, opt Options) (x, y float64) {
	_, shapes := shapesOf(t, spec, opt)
	for _, s := range shapes {
		if c, ok := s.(drawing.Ellipse); ok {
			x, y = c.X, c.Y
		}
	}
	return x, y
}

// checkPage measures rings, bar and scale in a rendered page.
func checkPage(t *testing.T, picture *image.Gray, spec target.Spec, opt Options, page drawing.Size) {
	t.Helper()
	assert.InDelta(t, page.Wide*pxPerMM, picture.Bounds().Dx(), 1, "page width, px")
	assert.InDelta(t, page.Tall*pxPerMM, picture.Bounds().Dy(), 1, "page height, px")
	x, y := lastCentre(t, spec, opt)
	reach := spec.OuterRadius() + spec.LineMM + 0.5
	for _, degrees := range []float64{20, 45, 70, 115, 160} { // off the cross and the bar
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		there := crossings(picture, x, y, cos, sin, reach)
		back := crossings(picture, x, y, -cos, -sin, reach)
		require.Len(t, there, len(spec.RingsMM), "%s at %g degrees", spec.Name, degrees)
		require.Len(t, back, len(spec.RingsMM), "%s at %g degrees", spec.Name, degrees)
		for i, d := range spec.RingsMM {
			assert.InDelta(t, d, there[i]+back[i], halfPixel, "%s, ring %d at %g degrees", spec.Name, i, degrees)
		}
	}
	checkIndex(t, picture, spec, x, y)
	assert.InDelta(t, 100, darkLength(picture, 5, scaleY+0.6, 1, 0, 112), halfPixel, "scale bar")
}

// checkIndex measures the bar at the target's top: length, place and width.
func checkIndex(t *testing.T, picture *image.Gray, spec target.Spec, x, y float64) {
	t.Helper()
	bar := spec.Index
	top := y - spec.OuterRadius()
	half := spec.LineMM / 2
	from := (half + bar.FromMM) / 2 // between line and bar: paper
	assert.InDelta(t, bar.ToMM-bar.FromMM, darkLength(picture, x, top-from, 0, -1, bar.ToMM+0.2), halfPixel, "bar's length")
	middle := top - (bar.FromMM+bar.ToMM)/2
	assert.InDelta(t, bar.WidthMM/2, darkLength(picture, x, middle, 1, 0, bar.WidthMM), halfPixel, "bar's right half")
	assert.InDelta(t, bar.WidthMM/2, darkLength(picture, x, middle, -1, 0, bar.WidthMM), halfPixel, "bar's left half")
}

// darkLength sums the ink along a line of the given length in mm.
func darkLength(picture *image.Gray, x, y, dx, dy, length float64) float64 {
	const step = 0.01
	total := 0.0
	for d := step / 2; d < length; d += step {
		total += ink(picture, x+d*dx, y+d*dy) * step
	}
	return total
}

func TestPrintedPDFHasTheSpecsDiameters(t *testing.T) {
	for _, name := range target.Names() {
		spec, _ := target.Builtin(name)
		opt := DefaultOptions()
		checkPage(t, renderPDF(t, spec, opt), spec, opt, drawing.PaperOr(drawing.A4))
	}
	letter := Options{Paper: drawing.Letter, Count: 2}
	checkPage(t, renderPDF(t, target.Default(), letter), target.Default(), letter, drawing.PaperOr(drawing.Letter))
}

// A path that does not end where it began grows a mitred spur at the join.
func TestRingsHaveNoSpurs(t *testing.T) {
	const trace = 0.1 // less is smoothing at the line's flank
	spec, _ := target.Builtin("single")
	picture := renderPDF(t, spec, DefaultOptions())
	_, shapes := shapesOf(t, spec, DefaultOptions())
	for _, s := range shapes {
		ring, ok := s.(drawing.Ellipse)
		if !ok || ring.Stroke != drawing.Black {
			continue
		}
		for degrees := 0.0; degrees < 360; degrees++ {
			sin, cos := math.Sincos(degrees * math.Pi / 180)
			for _, r := range []float64{5.5 - 3*halfPixel, 6.5 + 3*halfPixel} {
				require.Less(t, ink(picture, ring.X+r*cos, ring.Y+r*sin), trace, "%g degrees, %g mm of %+v", degrees, r, ring)
			}
		}
	}
}

func TestRenderedSVGHasTheSpecsDiameters(t *testing.T) {
	for _, name := range target.Names() {
		spec, _ := target.Builtin(name)
		opt := Options{Paper: drawing.A4, Count: 3}
		checkPage(t, renderSVG(t, spec, opt), spec, opt, drawing.PaperOr(drawing.A4))
	}
}

func TestRimIsDrawnWhereItIsKnown(t *testing.T) {
	spec, _ := target.Builtin("rimmed")
	opt := Options{Paper: drawing.A4, Count: 1}
	picture := renderPDF(t, spec, opt)
	x, y := lastCentre(t, spec, opt)
	weight, moment := 0.0, 0.0
	for r := 12.0; r < 14; r += 0.01 { // the rim is grey: too light for crossings
		dark := ink(picture, x+r, y)
		weight, moment = weight+dark, moment+dark*r
	}
	assert.InDelta(t, 13, moment/weight, halfPixel)
}

func TestPDFEmbedsItsFontsAndHoldsRealText(t *testing.T) {
	needs.Program(t, "pdffonts", "poppler-utils")
	path := writePDF(t, target.Default(), DefaultOptions())
	fonts := strings.Split(strings.TrimSpace(drawingtest.Run(t, "pdffonts", path)), "\n")[2:]
	require.Len(t, fonts, 2)
	for _, line := range fonts {
		assert.Regexp(t, `^\S+\s+CID TrueType\s+Identity-H\s+yes `, line)
	}
	words := drawingtest.Run(t, "pdftotext", "-layout", path, "-")
	assert.Equal(t, 16, strings.Count(words, "Station"))
	assert.Equal(t, 16, strings.Count(words, "Date"))
	for _, phrase := range []string{"Ring targets: plain-4", "Rings 4, 8, 12, 16 mm", "Measure this bar with a steel rule: 100 mm", "fit to page", "machine maker\u2019s instructions", "local rules"} {
		assert.Contains(t, words, phrase)
	}
}

// Poppler names the format that it recognises by its own table.
func TestPDFPagesAreA4AndLetter(t *testing.T) {
	needs.Program(t, "pdfinfo", "poppler-utils")
	for paper, want := range map[string]string{drawing.A4: "(A4)", drawing.Letter: "(letter)"} {
		facts := drawingtest.Run(t, "pdfinfo", writePDF(t, target.Default(), Options{Paper: paper}))
		assert.Contains(t, facts, want)
		assert.Regexp(t, `Pages:\s+1\n`, facts)
	}
}
