package overlay

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/measure"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/report"
)

// made composes a result, which must succeed.
func made(t *testing.T, res measure.Result) *drawing {
	t.Helper()
	d, err := compose(res, report.Millimetres)
	require.NoError(t, err)
	return d
}

// drawings are those of all cases, made once.
var drawings = sync.OnceValue(func() map[string]*drawing {
	all := map[string]*drawing{}
	for name, res := range cases() {
		d, err := compose(res, report.Millimetres)
		if err != nil {
			panic(name + ": " + err.Error())
		}
		all[name] = d
	}
	return all
})

// place is where a place on the target must be in the overlay, worked out here
// from the crop and the scale alone: the photo's px (x, y) covers x-0.5..x+0.5.
func (d *drawing) place(res measure.Result, right, up float64) point {
	x, y := res.ToPixel(right, up)
	scaleX := float64(d.picture.Dx()) / float64(d.view.crop.Dx())
	scaleY := float64(d.picture.Dy()) / float64(d.view.crop.Dy())
	return point{float64(d.picture.Min.X) + (x+0.5-float64(d.view.crop.Min.X))*scaleX,
		float64(d.picture.Min.Y) + (y+0.5-float64(d.view.crop.Min.Y))*scaleY}
}

// pixel is the one that a place lies in.
func (d *drawing) pixel(p point) color.RGBA {
	return d.img.RGBAAt(int(math.Floor(p.x)), int(math.Floor(p.y)))
}

// mostlyWhite: the middle of a line of 2 to 3 px fills nearly all of its pixel; a
// line that is 1.5 px off leaves the casing there.
const mostlyWhite = 215

// isolated is a ring drawing whose rings can be looked at without the rest.
func isolated(toPixel func(right, up float64) (float64, float64)) measure.Result {
	res := noNumber(both(blank(2000, 1500), toPixel))
	res.Measurements[0].View.RingsSeen = []report.RingSeen{{DiameterMM: 16, Arc: 0.9}, {DiameterMM: 12, Arc: 0.5}, {DiameterMM: 8, Arc: 0.5}}
	return res
}

func TestRingsSeenLieWhereTheTargetsPlaneSays(t *testing.T) {
	for name, toPixel := range map[string]func(right, up float64) (float64, float64){
		"level": level(900, 700, 40, 0), "turned": level(900, 700, 40, 133), "tilted": tilted(900, 700, 40, 45),
	} {
		res := isolated(toPixel)
		d := made(t, res)
		for _, radius := range []float64{4, 6, 8} {
			for degrees := 0; degrees < 360; degrees += 7 {
				sin, cos := math.Sincos(float64(degrees) * math.Pi / 180)
				at := d.place(res, radius*sin, radius*cos)
				assert.Greater(t, d.pixel(at).R, uint8(mostlyWhite), "%s: ring of %v mm at %d degrees", name, 2*radius, degrees)
				assert.Equal(t, color.RGBA{grey, grey, grey, 255}, d.pixel(d.place(res, (radius-1)*sin, (radius-1)*cos)), "%s: beside it", name)
			}
		}
	}
}

func TestRingsLieWithinAQuarterPixel(t *testing.T) {
	res := isolated(level(900.3, 700.8, 40, 0))
	d := made(t, res)
	for _, side := range []float64{-8, 8} {
		at := d.place(res, side, 0)
		sum, weight := 0.0, 0.0
		for x := int(at.x) - 12; x <= int(at.x)+12; x++ {
			if light := float64(d.img.RGBAAt(x, int(at.y)).R) - grey; light > 0 {
				sum, weight = sum+light*(float64(x)+0.5), weight+light
			}
		}
		const quarter = 0.25 // px of the picture: the row's own place across the ring, and 8-bit levels
		assert.InDelta(t, at.x, sum/weight, quarter)
	}
}

func TestLinesHaveADarkCasingOnBothSides(t *testing.T) {
	res := isolated(level(900, 700, 40, 0))
	d := made(t, res)
	right := d.place(res, 8, 0)
	middle := seenPen.width*d.unit()/2 + casingWidth*d.unit()/2
	for _, side := range []float64{-1, 1} {
		assert.Less(t, d.pixel(right.add(point{side * middle, 0})).R, uint8(grey/2))
	}
}

// unit is the picture's.
func (d *drawing) unit() float64 { return float64(max(d.img.Rect.Dx(), d.picture.Dy())) / fullSide }

func TestARingNotSeenHasGaps(t *testing.T) {
	res := isolated(level(900, 700, 40, 0))
	d := made(t, res)
	onLine, beside := 0, 0
	for degrees := range 360 {
		sin, cos := math.Sincos(float64(degrees) * math.Pi / 180)
		switch d.pixel(d.place(res, 2*sin, 2*cos)).R {
		case white.R:
			onLine++
		case grey:
			beside++
		}
	}
	assert.Greater(t, onLine, 90)
	assert.Greater(t, beside, 60)
}

func TestTheOffsetsArrowEndsAtTheMark(t *testing.T) {
	toPixel := level(900, 700, 40, 25)
	for mark, pen := range markPens {
		res := one(blank(2000, 1500), 5, -1.2, toPixel)
		res.Measurements[0].Mark = mark
		d := made(t, res)
		assert.Equal(t, pen.colour, d.pixel(d.place(res, 0.97*5, 0.97*-1.2)), mark)
		assert.Equal(t, pen.colour, d.pixel(d.place(res, 0.6*5, 0.6*-1.2)), mark)
		assert.Equal(t, color.RGBA{grey, grey, grey, 255}, d.pixel(d.place(res, 1.1*5, 1.1*-1.2)), mark)
	}
}

func TestTheArrowUpLiesOnTheTargetsAxis(t *testing.T) {
	for turned := 0.0; turned < 360; turned += 30 {
		res := isolated(level(1000, 750, 20, turned))
		d := made(t, res)
		end, beyond := d.place(res, 0, 11.2), d.place(res, 0, 12.2)
		along, _ := beyond.sub(end).unit()
		shaft := end.add(along.times((upGap + 10) * d.unit()))
		assert.Equal(t, white, d.pixel(shaft), "turned %v degrees", turned)
	}
}

func TestTheOutlineIsDrawnWithoutATargetToo(t *testing.T) {
	res := one(blank(1600, 1200), 1, 1, level(800, 600, 40, 0))
	res.ToPixel = nil
	d := made(t, res)
	assert.Equal(t, image.Rect(0, 0, 1600, 1200), d.view.crop)
	first := res.Outlines[0][0] // at scale 1, a photo's pixel is the picture's
	assert.Equal(t, orange, d.img.RGBAAt(int(first[0]), int(first[1])))
}

func TestAllWordsStandInThePanelAndApart(t *testing.T) {
	for name, d := range drawings() {
		inner := boxOf(d.panel.Sub(d.panel.Min))
		for i, r := range d.runs {
			b := room(r)
			assert.True(t, inner.holds(b), "%s: %q", name, r.text)
			for _, other := range d.runs[:i] {
				assert.False(t, inkBox(r).meets(inkBox(other)), "%s: %q over %q", name, r.text, other.text)
			}
		}
	}
}

// room is the place of a run's letters, with the line's leading.
func room(r run) box {
	return box{point{r.at.x, r.at.y - r.letters.rise()}, point{r.at.x + r.letters.width(r.text), r.at.y + r.letters.drop()}}
}

// inkBox is the room without the line's leading.
func inkBox(r run) box {
	b := room(r)
	return box{b.min.add(point{0, 0.1 * r.letters.size}), b.max.sub(point{0, 0.1 * r.letters.size})}
}

func TestThePictureAndTheCaptionShareNoPixel(t *testing.T) {
	for name, d := range drawings() {
		assert.False(t, d.picture.Overlaps(d.panel), name)
		assert.Equal(t, d.img.Rect, image.Rect(0, 0, d.img.Rect.Dx(), d.picture.Dy()).Union(d.panel), name)
		for x := d.panel.Min.X; x < d.panel.Max.X; x++ { // nothing of the picture reaches over
			require.Equal(t, paper, d.img.RGBAAt(x, d.panel.Min.Y), name)
			require.Equal(t, paper, d.img.RGBAAt(x, d.panel.Max.Y-1), name)
		}
	}
}

func TestEverySizeIsWithinItsBounds(t *testing.T) {
	for name, d := range drawings() {
		assert.LessOrEqual(t, max(d.picture.Dx(), d.picture.Dy()), fullSide, name)
		assert.LessOrEqual(t, d.picture.Dx(), mostScale*d.view.crop.Dx(), name)
		assert.LessOrEqual(t, d.picture.Dy(), mostScale*d.view.crop.Dy(), name)
		assert.GreaterOrEqual(t, d.img.Rect.Dx(), leastWidth, name)
		ratio := float64(d.picture.Dx()) * float64(d.view.crop.Dy()) / float64(d.picture.Dy()) / float64(d.view.crop.Dx())
		if min(d.picture.Dx(), d.picture.Dy()) > 100 {
			assert.InDelta(t, 1, ratio, 0.01, "%s: stretched", name)
		}
	}
}

func TestTheWholeTargetIsShown(t *testing.T) {
	for _, name := range []string{"plain", "tilted", "upside down", "on its side", "tiny", "huge", "far off"} {
		res, d := cases()[name], drawings()[name]
		room := boxOf(d.picture)
		for degrees := 0; degrees < 360; degrees += 10 {
			sin, cos := math.Sincos(float64(degrees) * math.Pi / 180)
			assert.True(t, room.holds(noBox().with(d.place(res, 8*sin, 8*cos))), name)
		}
		for _, m := range res.Measurements {
			assert.True(t, room.holds(noBox().with(d.place(res, m.Offset.RightMM, m.Offset.UpMM))), name)
		}
	}
}

func TestThePhotosColoursAreKept(t *testing.T) {
	p := blank(3000, 2400)
	for i := 0; i < len(p.Pix); i += 3 {
		p.Pix[i], p.Pix[i+1], p.Pix[i+2] = 10, 90, 200 // blue, green, red
	}
	d := made(t, refused(p, "x"))
	assert.Equal(t, color.RGBA{200, 90, 10, 255}, d.img.RGBAAt(700, 500))
}

func TestAnEdgeStaysInItsPlace(t *testing.T) {
	for _, width := range []int{400, 1600, 3200, 4001} { // enlarged, as it is, halved, more than halved
		p := blank(width, width)
		edge := width / 4
		for i := range p.Pix {
			p.Pix[i] = byte(255 * min(1, i/3%width/edge))
		}
		d := made(t, refused(p, "x"))
		y, sum := d.picture.Dy()/2, 0.0
		for x := d.picture.Min.X; x < d.picture.Max.X; x++ {
			sum += 1 - float64(d.img.RGBAAt(x, y).R)/255 // the dark part's length
		}
		const subPixel = 0.5 // px of the picture
		assert.InDelta(t, float64(edge)*float64(d.picture.Dx())/float64(width), sum, subPixel, "%d px wide", width)
	}
}

func TestTheScaleBarIsAsLongAsItSays(t *testing.T) {
	res := isolated(level(900, 700, 40, 0))
	d := made(t, res)
	bar, ok := newScene(res, report.Millimetres).scaleBar(d.view)
	require.True(t, ok)
	assert.Equal(t, "5 mm", bar.text)
	const rounding = 1 // px: the picture's sides are whole
	assert.InDelta(t, d.place(res, 2.5, 0).x-d.place(res, -2.5, 0).x, bar.sample.px, rounding)
}

// A level line in the picture crosses a target tilted about a slanted axis at
// two points of a ring; they are that many mm apart as the bar says, for a ring
// so small that perspective does not matter.
func TestTheScaleBarHoldsAlongALevelLineOfATiltedTarget(t *testing.T) {
	const shear, squeeze = 0.4, 0.6
	toPixel := func(right, up float64) (float64, float64) {
		return 900 + 40*(right+shear*up), 700 - 40*(squeeze*up+0.2*right)
	}
	res := isolated(toPixel)
	d := made(t, res)
	bar, ok := newScene(res, report.Millimetres).scaleBar(d.view)
	require.True(t, ok)
	right := 5 / math.Hypot(1, 0.2/squeeze) // level: squeeze up = -0.2 right
	from, to := d.place(res, 0, 0), d.place(res, right, -0.2/squeeze*right)
	const rounding = 1 // px
	assert.InDelta(t, from.y, to.y, rounding)
	assert.InDelta(t, to.x-from.x, bar.sample.px, rounding)
}

// caption is all that is said, in one line.
func caption(t *testing.T, res measure.Result) string {
	t.Helper()
	return saidIn(made(t, res))
}

func saidIn(d *drawing) string {
	var texts []string
	for _, r := range d.runs {
		texts = append(texts, r.text)
	}
	return strings.ReplaceAll(strings.Join(texts, " "), string(tied), " ")
}

func TestTheCaptionSaysIt(t *testing.T) {
	res := warned(both(blank(2000, 1500), level(900, 700, 40, 0)))
	res.Measurements[0].Offset.Rings, res.Measurements[0].Offset.DistanceMM = 0.485, 0.97
	text := caption(t, res)
	for _, says := range []string{
		"rear-left.jpg",
		"Burn 0.440 mm left, 0.860 mm up = 0.970 mm at 11:00, ring 0.485 ± 0.030 mm (95 %) inside the limit of 2 mm",
		"Pointer 2.500 mm right, 3.000 mm down = 3.905 mm at 4:30",
		"outside the limit of 2 mm",
		"Warning: " + long,
		"Warning, burn: the mark's middle is saturated",
		"Target plain-4, tilt 10°", "ring seen", "ring not seen", "limit 2 mm", "5 mm",
	} {
		assert.Contains(t, text, says)
	}
	assert.Equal(t, 1, strings.Count(text, long), "a warning of both marks is said once")
}

// 0.44 mm are 0.0173 in, 0.86 are 0.0339, together 0.0380, 0.03 are 0.0012 (an inch
// is 25.4 mm). A fifth of an inch is 5.08 mm.
func TestAnOverlayInInchesHasNoMillimetres(t *testing.T) {
	res := both(blank(2000, 1500), level(900, 700, 40, 0))
	d, err := compose(res, report.Inches)
	require.NoError(t, err)
	text := saidIn(d)
	assert.Contains(t, text, "Burn 0.0173 in left, 0.0339 in up = 0.0380 in at 11:00")
	assert.Contains(t, text, "± 0.0012 in (95 %) inside the limit of 0.0787 in")
	assert.NotContains(t, text, "mm")
	bar, ok := newScene(res, report.Inches).scaleBar(d.view)
	require.True(t, ok)
	assert.Equal(t, "0.2 in", bar.text)
	const rounding = 1 // px: the picture's sides are whole
	assert.InDelta(t, d.place(res, 2.54, 0).x-d.place(res, -2.54, 0).x, bar.sample.px, rounding)
}

func TestARefusalIsSaidInFullAndOnce(t *testing.T) {
	text := caption(t, noNumber(both(blank(2000, 1500), level(900, 700, 40, 0))))
	assert.Contains(t, text, "Burn and pointer: not measured There is no mark on the target: fire again, a little longer")
	assert.Equal(t, 1, strings.Count(text, "fire again"))
	assert.Contains(t, caption(t, refused(blank(60, 40), long)), "Burn: not measured O"+long[1:])
}

func TestWordsForWhatIsNotClear(t *testing.T) {
	s := &scene{units: report.Millimetres}
	tie := strings.NewReplacer(string(tied), " ")
	assert.Equal(t, "borderline: 61 % likely inside the limit of 1.25 mm", tie.Replace(s.verdictWords(report.Verdict{LimitMM: 1.25, State: "borderline", Probability: 0.61})))
	assert.Equal(t, "± unknown", tie.Replace(s.uncertaintyWords(nil)))
	assert.Equal(t, "0.000 mm left or right, 0.000 mm down or up = 0.000 mm, ring 0", tie.Replace(s.offsetWords(report.Offset{Clock: "-"}, 0.03)))
}

func TestLettersThatTheFontLacksAreMarked(t *testing.T) {
	l := newLetters(regular(), 40)
	assert.Equal(t, "R\u00fcckseite ?? ?[31m.jpg", l.known("Ru\u0308ckseite \u5de6\u5f8c\n\x1b[31m.jpg"))
}

func TestWrappingLosesNothing(t *testing.T) {
	l := newLetters(bold(), 40)
	for _, text := range []string{long, strings.Repeat("x", 200), "a-b_" + strings.Repeat("long-name_", 30) + " end", "", "i"} {
		for _, width := range []float64{1, 90, 400, 1500} {
			lines := l.wrapped(text, width)
			assert.Equal(t, strings.ReplaceAll(text, " ", ""), strings.ReplaceAll(strings.Join(lines, ""), " ", ""))
			for _, line := range lines {
				assert.True(t, l.width(line) <= width || len(line) == 1, "%q in %v", line, width)
			}
		}
	}
}

// The file decodes, by the standard library, to the drawing itself: in the mean over
// the picture to a code value or two, and in the red ring drawn over a grey photo where
// the drawing is red. A blank page is neither.
func TestTheFileIsAJPEGOfTheDrawing(t *testing.T) {
	const tolMean = 2.0 // code values; quality and chroma of the file cost about 1
	path := filepath.Join(t.TempDir(), "draft")
	res := one(blank(2000, 1500), 1, 1, level(900, 700, 40, 0))
	require.NoError(t, Write(path, res, report.Millimetres))
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	decoded, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	d := made(t, res)
	require.Equal(t, d.img.Rect.Size(), decoded.Bounds().Size())
	drawn, sum, far := 0.0, 0.0, 0.0
	paper := d.img.At(5, 5)
	for y := range d.img.Rect.Dy() {
		for x := range d.img.Rect.Dx() {
			sum += apart(d.img.At(x, y), decoded.At(x, y))
			if a := apart(d.img.At(x, y), paper); a > 60 { // what was drawn, not the photo
				drawn++
				far += apart(decoded.At(x, y), paper)
			}
		}
	}
	assert.Less(t, sum/float64(d.img.Rect.Dx()*d.img.Rect.Dy()), tolMean)
	require.Greater(t, drawn, 1000.0)
	assert.Greater(t, far/drawn, 50.0, "what was drawn is in the file")
}

// apart is the mean distance of two colours over red, green and blue, code values.
func apart(a, b color.Color) float64 {
	r, g, bl, _ := a.RGBA()
	r2, g2, b2, _ := b.RGBA()
	return (math.Abs(float64(r)-float64(r2)) + math.Abs(float64(g)-float64(g2)) + math.Abs(float64(bl)-float64(b2))) / (3 * 257)
}

func TestWithoutPixelsNothingIsWritten(t *testing.T) {
	for _, p := range []*photo.Photo{nil, {}, {Image: photo.Image{Width: 10, Height: 10, Pix: make([]byte, 10)}}} {
		path := filepath.Join(t.TempDir(), "draft")
		assert.ErrorIs(t, Write(path, measure.Result{Photo: p}, report.Millimetres), ErrNoPhoto)
		assert.NoFileExists(t, path)
	}
}

func TestAFolderThatIsNotThereIsReported(t *testing.T) {
	err := Write(filepath.Join(t.TempDir(), "none", "draft"), refused(blank(50, 50), "x"), report.Millimetres)
	assert.ErrorIs(t, err, os.ErrNotExist)
}

// A plane that was fitted badly may send places anywhere: nothing may hang or
// panic, and the numbers must still be said.
func TestPlacesThatAreNowhereAreLeftOut(t *testing.T) {
	for _, toPixel := range []func(right, up float64) (float64, float64){
		func(_, _ float64) (float64, float64) { return math.NaN(), math.NaN() },
		func(right, _ float64) (float64, float64) { return math.Inf(1) * right, 5 },
		func(_, _ float64) (float64, float64) { return 300, 300 },
		func(right, up float64) (float64, float64) { return 1e300 * right, -1e300 * up },
		func(right, up float64) (float64, float64) { return 800 + 30/(right-1), 600 + 30/(up-1) },
	} {
		res := both(blank(1600, 1200), toPixel)
		assert.Contains(t, caption(t, res), "0.440 mm left")
	}
}
