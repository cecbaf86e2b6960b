package studio

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"burngauge.dev/burngauge/pkg/studio/raster"
	"burngauge.dev/burngauge/pkg/target"
)

// plainScene is a sheet of white paper in even light with one hard black disc on it.
func plainScene(right, up, radius float64) Scene {
	spec := target.Spec{Name: "test", RingsMM: []float64{30}, LineMM: 0.3}
	return Scene{Target: spec, Blank: true, Look: Look{Paper: Grey(0.8)}, Lights: Lights{Ambient: Grey(1)},
		Burns: []Burn{{Lobes: []Lobe{{Right: right, Up: up, MajorMM: radius, MinorMM: radius}}, Strength: 1}}}
}

// The image of a disc is an ellipse whose centre lies f·r²·sinτ·cosτ/(d²-r²sin²τ)
// off the projected centre (S. J. Ahn, H.-J. Warnecke, R. Kotowski, "Systematic geometric
// image measurement errors of circular object targets", Photogrammetric Record 16(93), 1999,
// 485-502; worked out again from the cone through the disc), and the picture's centroid of missing light is that centre.
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
func missing(pic *raster.Picture, paper float64) (x, y, area float64) {
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
