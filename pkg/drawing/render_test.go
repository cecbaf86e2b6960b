package drawing

import (
	"bytes"
	"image"
	"image/draw"
	"image/jpeg"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/drawing/drawingtest"
	"burngauge.dev/burngauge/pkg/needs"
)

// Pages are rendered by other people's programs, poppler and librsvg, at 20 px a mm.
const pxPerMM = 20

// rendered is the page by both writers.
func rendered(t *testing.T, d Document) map[string]*image.Gray {
	t.Helper()
	const dpi = 25.4 * pxPerMM
	pdf := drawingtest.File(t, "page.pdf", func(w io.Writer) error { return WritePDF(w, d) })
	svg := drawingtest.File(t, "page.svg", func(w io.Writer) error { return WriteSVG(w, d) })
	return map[string]*image.Gray{"PDF": grey(drawingtest.PDFPage(t, pdf, dpi)), "SVG": grey(drawingtest.SVGPage(t, svg, dpi))}
}

// grey is a picture's brightness.
func grey(picture image.Image) *image.Gray {
	out := image.NewGray(picture.Bounds())
	draw.Draw(out, out.Bounds(), picture, picture.Bounds().Min, draw.Src)
	return out
}

// moments are the ink's area in mm2, its centre in mm, and its second moments about
// that, in mm2: xx, xy, yy.
func moments(p *image.Gray) (area, x, y, xx, xy, yy float64) {
	each := func(do func(x, y, ink float64)) {
		for py := range p.Rect.Dy() {
			for px := range p.Rect.Dx() {
				if v := p.GrayAt(px, py).Y; v < 255 {
					do((float64(px)+0.5)/pxPerMM, (float64(py)+0.5)/pxPerMM, 1-float64(v)/255)
				}
			}
		}
	}
	sum := 0.0
	each(func(px, py, ink float64) { sum, x, y = sum+ink, x+ink*px, y+ink*py })
	x, y = x/sum, y/sum
	each(func(px, py, ink float64) {
		xx, xy, yy = xx+ink*(px-x)*(px-x)/sum, xy+ink*(px-x)*(py-y)/sum, yy+ink*(py-y)*(py-y)/sum
	})
	return sum / pxPerMM / pxPerMM, x, y, xx, xy, yy
}

// What each shape covers, by geometry: area and centre. A filled ellipse with half
// axes a and b has the area pi a b and the second moments a2/4 and b2/4 along them; a
// ring of radius r and width w the area 2 pi r w.
func TestBothWritersDrawTheShapesInTheirPlaceAndSize(t *testing.T) {
	const tolerance = 1.0 / pxPerMM // mm: poppler puts the ends of strokes on whole pixels
	open := Line(Stroked(Black, 1), Point{5, 5}, Point{25, 5}, Point{25, 15})
	for name, c := range map[string]struct {
		shape      Shape
		area, x, y float64
	}{
		"disc":      {Circle(15, 12, 8, Filled(Black)), math.Pi * 64, 15, 12},
		"ring":      {Circle(15, 12, 8, Stroked(Black, 0.5)), 2 * math.Pi * 8 * 0.5, 15, 12},
		"ellipse":   {Ellipse{Style: Filled(Black), X: 14, Y: 11, RX: 9, RY: 4, Turn: 30}, math.Pi * 36, 14, 11},
		"box":       {Box(Point{4, 3}, Point{24, 9}, Filled(Black)), 120, 14, 6},
		"triangle":  {Polygon(Filled(Black), Point{3, 3}, Point{27, 3}, Point{3, 18}), 180, 11, 8},
		"line":      {Line(Stroked(Black, 2), Point{5, 10}, Point{25, 10}), 40, 15, 10},
		"open line": {open, 30 - 0.25 + math.Pi/16, (20*15 + 10*25) / 30.0, (20*5 + 10*10) / 30.0}, // its corner is round
		"dashes":    {Line(Stroked(Black, 2, 3, 2), Point{5, 10}, Point{25, 10}), 24, (4*3*1.5+3*(0+5+10+15))/12.0 + 5, 10},
		"in frame":  {Square(2, Circle(1, -1, 1, Filled(Black))).At(4, 2, 16)[0], math.Pi * 16, 4 + 12, 2 + 4},
	} {
		for writer, picture := range rendered(t, page(name, Size{30, 24}, c.shape)) {
			area, x, y, _, _, _ := moments(picture)
			assert.InEpsilon(t, c.area, area, 0.02, "%s as %s: area", name, writer)
			assert.InDelta(t, c.x, x, tolerance, "%s as %s: x", name, writer)
			assert.InDelta(t, c.y, y, tolerance, "%s as %s: y", name, writer)
		}
	}
}

// Turned by 30 degrees clockwise with y down, the long axis lies along (cos, sin).
func TestBothWritersTurnAnEllipseTheSameWay(t *testing.T) {
	const a, b, turn = 9.0, 4.0, math.Pi / 6
	shape := Ellipse{Style: Filled(Black), X: 14, Y: 12, RX: a, RY: b, Turn: 30}
	sin, cos := math.Sincos(turn)
	for writer, picture := range rendered(t, page("turned", Size{30, 24}, shape)) {
		_, _, _, xx, xy, yy := moments(picture)
		assert.InEpsilon(t, (a*a*cos*cos+b*b*sin*sin)/4, xx, 0.01, writer)
		assert.InEpsilon(t, (a*a-b*b)*sin*cos/4, xy, 0.01, writer)
		assert.InEpsilon(t, (a*a*sin*sin+b*b*cos*cos)/4, yy, 0.01, writer)
	}
}

// A photo half black, half white: as wide and tall as its place allows, in its shape.
func TestBothWritersShowAPhotoInItsShape(t *testing.T) {
	picture := image.NewGray(image.Rect(0, 0, 200, 100))
	for i := range picture.Pix {
		if i%200 >= 100 {
			picture.Pix[i] = 255
		}
	}
	var asJPEG, asPNG bytes.Buffer
	require.NoError(t, jpeg.Encode(&asJPEG, picture, &jpeg.Options{Quality: 100}))
	require.NoError(t, png.Encode(&asPNG, picture))
	for kind, data := range map[string][]byte{"JPEG": asJPEG.Bytes(), "PNG": asPNG.Bytes()} {
		photo, err := NewPhoto(data)
		require.NoError(t, err)
		fitted, err := photo.Fit(3, 2, 20, 30)
		require.NoError(t, err)
		assert.InDelta(t, 10, fitted.Tall, 1e-12)
		for writer, picture := range rendered(t, page(kind, Size{30, 24}, fitted)) {
			area, x, y, _, _, _ := moments(picture)
			assert.InDelta(t, 100, area, 1.5, "%s in %s", kind, writer)
			assert.InDelta(t, 8, x, 0.06, "%s in %s", kind, writer)
			assert.InDelta(t, 7, y, 0.06, "%s in %s", kind, writer)
		}
	}
}

func TestWhatIsNoPhotoIsRefused(t *testing.T) {
	for _, data := range []string{"", "GIF89a", "\x89PNG\r\n\x1a\n"} {
		_, err := NewPhoto([]byte(data))
		assert.Error(t, err, "%q", data)
	}
	var whole bytes.Buffer
	require.NoError(t, png.Encode(&whole, image.NewGray(image.Rect(0, 0, 300, 300))))
	photo, err := NewPhoto(whole.Bytes()[:60]) // the head alone
	require.NoError(t, err)
	_, err = photo.Fit(0, 0, 10, 10)
	assert.Error(t, err)
}

// Twice on the pages, a photo is once in the file.
func TestAPhotoDrawnTwiceIsStoredOnce(t *testing.T) {
	needs.Program(t, "pdfimages", "poppler-utils")
	var data bytes.Buffer
	require.NoError(t, png.Encode(&data, image.NewGray(image.Rect(0, 0, 40, 40))))
	photo, err := NewPhoto(data.Bytes())
	require.NoError(t, err)
	one, _ := photo.Fit(0, 0, 10, 10)
	two, _ := photo.Fit(0, 12, 10, 10)
	path := drawingtest.File(t, "page.pdf", func(w io.Writer) error { return WritePDF(w, page("x", Size{30, 24}, one, two)) })
	list := drawingtest.Run(t, "pdfimages", "-list", path)
	objects := map[string]bool{}
	for _, line := range strings.Split(strings.TrimSpace(list), "\n")[2:] {
		objects[strings.Fields(line)[10]] = true
	}
	assert.Len(t, objects, 1, list)
}
