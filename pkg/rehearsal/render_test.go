package rehearsal

import (
	"image"
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/target"
)

// plainScene is a sheet of white paper in even light with one hard black disc on it.
func plainScene(right, up, radius float64) Scene {
	spec := target.Spec{Name: "test", RingsMM: []float64{30}, LineMM: 0.3}
	return Scene{Target: spec, Blank: true, Look: Look{Paper: Grey(0.8)}, Lights: Lights{Ambient: Grey(1)},
		Burns: []Burn{{Lobes: []Lobe{{Right: right, Up: up, MajorMM: radius, MinorMM: radius}}, Strength: 1}}}
}

// The image of a disc is an ellipse whose centre lies f·r²·sinτ·cosτ/(d²-r²sin²τ)
// off the projected centre (S. J. Ahn et al. 1999; worked
// out again from the cone through the disc), and the picture's centroid of missing light is that centre.
func TestRenderedDiscHasTheEllipseOfTheClosedForm(t *testing.T) {
	const f, d, r = 600.0, 60.0, 12.0
	sin, cos := 0.6, 0.8
	cam := Camera{Width: 401, Height: 401, FocalPX: f, Middle: [2]float64{200, 200}}
	cam.Aim(Pose{TiltDeg: math.Asin(sin) * 180 / math.Pi}, 200, 200, d)
	scene := plainScene(0, 0, r)
	x, y, area := missing(Render(&scene, &cam), 0.8)
	bias := f * r * r * sin * cos / (d*d - r*r*sin*sin)
	a := r * f / math.Sqrt(d*d-r*r*sin*sin)
	b := r * f * d * cos / (d*d - r*r*sin*sin)
	const tolPX = 0.01
	assert.InDelta(t, 200, x, tolPX)
	assert.InDelta(t, bias, math.Abs(y-200), tolPX)
	assert.InDelta(t, 1, area/(math.Pi*a*b), 1e-3)
}

// missing sums what is darker than the paper: centroid and area in pixels. The
// soot's own grain cancels because only more-than-half-dark pixels count whole.
func missing(pic *Picture, paper float64) (x, y, area float64) {
	for i := range pic.Width * pic.Height {
		w := 1 - float64(pic.Pix[3*i])/paper
		if w > 0.85 {
			w = 1
		}
		x += w * float64(i%pic.Width)
		y += w * float64(i/pic.Width)
		area += w
	}
	return x / area, y / area, area
}

// A mark h above the rings, seen under the tilt τ, seems to lie h·tanτ aside on
// the ring plane (by hand); far away, so that the rays are parallel.
func TestTapeHeightShiftsTheMark(t *testing.T) {
	const tilt, high = 30.0, 2.0
	cam := Camera{Width: 301, Height: 301, FocalPX: 60000, Middle: [2]float64{150, 150}}
	cam.Aim(Pose{TiltDeg: tilt}, 150, 150, 6000)
	scene := plainScene(0, 0, 5)
	_, y0, _ := missing(Render(&scene, &cam), 0.8)
	scene.Target.TapeMM = high
	_, y1, _ := missing(Render(&scene, &cam), 0.8)
	pxPerMM := cam.PxPerMM() * math.Cos(tilt*math.Pi/180) // along the foreshortened direction
	assert.InDelta(t, high*math.Tan(tilt*math.Pi/180), math.Abs(y1-y0)/pxPerMM, 0.005)
}

// busy uses every part of the renderer.
func busy(seed uint64) (Scene, Camera, Develop) {
	d := NewDice(seed, 1)
	spec := target.Spec{Name: "test", RingsMM: []float64{4, 8}, LineMM: 0.3, CrossMM: 1, Index: target.Index{FromMM: 0.7, ToMM: 3, WidthMM: 1.3}, TapeMM: 0.1}
	cam := Camera{Width: 240, Height: 180, FocalPX: 230, Middle: [2]float64{119, 90}, K1: 0.05}
	cam.Aim(Pose{TiltDeg: 20, RollDeg: 40}, 110, 95, 40)
	s := Scene{Target: spec, Look: d.Look(spec, false), Plate: d.Plate(spec), Background: d.Background(), Lights: d.Lights(0.5), Seed: 3}
	s.Burns = []Burn{d.Burn(1, 1, 3)}
	s.Pointers = []Pointer{d.Pointer(-2, 0)}
	s.Tapes = []Tape{d.Tape(1, 1, 3, 0.3)}
	s.Writings = []Writing{d.Writing(-3, -3, 1, Grey(0.02))}
	s.Clutter = d.Clutter(&s, &cam, 6)
	s.Lights.Shades = []Shade{d.Shade(4)}
	s.Lights.Glares = []Glare{d.Glare(2, 2, 1, 1)}
	v := d.Develop()
	v.Mosaic, v.Sharpen, v.MotionPX, v.DefocusPX = true, 0.5, 2, 1.5
	return s, cam, v
}

func develop(seed uint64) *image.RGBA {
	s, cam, v := busy(seed)
	return v.Photo(Render(&s, &cam))
}

func TestSameSeedSameBytesOnAnyNumberOfProcessors(t *testing.T) {
	before := runtime.GOMAXPROCS(1)
	one := develop(4)
	runtime.GOMAXPROCS(4)
	four := develop(4)
	runtime.GOMAXPROCS(before)
	require.Equal(t, one.Pix, four.Pix)
	assert.NotEqual(t, one.Pix, develop(5).Pix)
}

// The blurs and the mosaic are symmetric: a spot's centroid stays where it was.
func TestDevelopingMovesNothing(t *testing.T) {
	scene := plainScene(0.37, -0.21, 4)
	cam := Camera{Width: 161, Height: 161, FocalPX: 1000, Middle: [2]float64{80, 80}}
	cam.Aim(Pose{}, 80, 80, 100)
	x0, y0, _ := missing(Render(&scene, &cam), 0.8)
	steps := map[string]stage{
		"gaussian": softened(1.3), "disc": defocused(4.2), "shake": shaken(5.5, 33),
		"mosaic": func(width, height int, of rows) rows {
			out := newLine(width)
			sensor := newWindow(height, 1, func() []float32 { return make([]float32, width) }, func(out []float32, y int) {
				for x, light := 0, of(y); x < width; x++ {
					out[x] = light[bayer(x, y)][x]
				}
			})
			return func(y int) line {
				demosaic(out, sensor.about(y), y, height)
				return out
			}
		},
	}
	for name, do := range steps {
		x, y, _ := grey(through(Render(&scene, &cam), do), 0.8)
		assert.InDelta(t, x0, x, 0.02, name)
		assert.InDelta(t, y0, y, 0.02, name)
	}
}

// grey is the plain centroid of missing light.
func grey(pic *Picture, paper float64) (x, y, area float64) {
	for i := range pic.Width * pic.Height {
		w := 1 - float64(pic.Pix[3*i+1])/paper
		x += w * float64(i%pic.Width)
		y += w * float64(i/pic.Width)
		area += w
	}
	return x / area, y / area, area
}

// sRGB, IEC 61966-2-1: 0.18 is coded 0.4613561295 (colour-science documentation),
// 0.5 is 0.7353569831 and 0.001 is 0.01292 (by hand from the curve).
func TestToneWithoutTasteIsSRGB(t *testing.T) {
	v := DefaultDevelop()
	assert.InDelta(t, 0.4613561295, v.tone(0.18), 1e-9)
	assert.InDelta(t, 0.7353569831, v.tone(0.5), 1e-9)
	assert.InDelta(t, 0.01292, v.tone(0.001), 1e-9)
}

// The mean of many noisy pixels is the light, their variance Shot·light + Read².
func TestNoiseHasTheVarianceAsked(t *testing.T) {
	v := Develop{Exposure: 1, White: Grey(1), Shot: 1.0 / 1000, Read: 0.01, Seed: 9}
	pic := NewPicture(300, 300)
	for i := range pic.Pix {
		pic.Pix[i] = 0.5
	}
	pic = through(pic, v.onSensor)
	var sum, square float64
	for _, p := range pic.Pix {
		sum += float64(p)
		square += float64(p) * float64(p)
	}
	n := float64(len(pic.Pix))
	mean := sum / n
	want := 0.5/1000 + 0.01*0.01
	assert.InDelta(t, 0.5, mean, 4*math.Sqrt(want/n))
	assert.InDelta(t, 1, (square/n-mean*mean)/want, 4*math.Sqrt(2/n))
}
