package ring

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/studio/darkroom"
	"burngauge.dev/burngauge/pkg/target"
)

// view is how a rendered target is to be seen.
type view struct {
	spec          target.Spec
	tilt, toward  float64 // degrees
	roll          float64 // degrees, clockwise as seen
	k1            float64 // of the simulated lens, as OpenCV counts it
	light         bool    // light lines on dark
	width, height int     // px, 0: 640 x 480
	pxPerMM       float64 // 0: 14, half of the short side
	aimX, aimY    float64 // of the target's centre from the picture's, px
	focal35       float64 // mm, 0: as a phone's main lens
	change        func(s *studio.Scene, d *darkroom.Settings)
}

const mainLens = 26.0 // mm, the focal length on 35 mm film of a phone's main lens

// take renders and develops the target, and gives the camera as the truth.
func take(v view) (*photo.Photo, *studio.Camera) {
	if v.width == 0 {
		v.width, v.height = 640, 480
	}
	if v.pxPerMM == 0 {
		v.pxPerMM = 14
	}
	if v.spec.RingsMM == nil {
		v.spec = target.Default()
	}
	if v.focal35 == 0 {
		v.focal35 = mainLens
	}
	focal := studio.FocalFrom35(v.focal35, v.width, v.height)
	cam := studio.Camera{Width: v.width, Height: v.height, FocalPX: focal, K1: v.k1,
		Middle: [2]float64{float64(v.width-1) / 2, float64(v.height-1) / 2}}
	cam.Aim(studio.Pose{TiltDeg: v.tilt, TowardDeg: v.toward, RollDeg: v.roll}, cam.Middle[0]+v.aimX, cam.Middle[1]+v.aimY, focal/v.pxPerMM)
	s := studio.Scene{Target: v.spec, Seed: 5,
		Look:   studio.Look{Paper: studio.Grey(0.6), Ink: studio.Grey(0.05)},
		Lights: studio.Lights{Ambient: studio.Grey(1)},
	}
	if v.light {
		s.Look.Paper, s.Look.Ink = s.Look.Ink, s.Look.Paper
	}
	develop := darkroom.Default()
	if v.change != nil {
		v.change(&s, &develop)
	}
	img := develop.Photo(studio.Render(&s, &cam))
	ph := &photo.Photo{Image: photo.Image{Width: v.width, Height: v.height, Pix: make([]byte, 3*v.width*v.height)}}
	for k := range v.width * v.height {
		ph.Pix[3*k], ph.Pix[3*k+1], ph.Pix[3*k+2] = img.Pix[4*k+2], img.Pix[4*k+1], img.Pix[4*k]
	}
	ph.Facts = photo.Facts{File: "rendered", Width: v.width, Height: v.height, Focal35MM: v.focal35, HasEXIF: true}
	return ph, &cam
}

// found is the fit of a rendered target that must be found.
func found(t *testing.T, v view) (*Fit, *studio.Camera) {
	t.Helper()
	ph, cam := take(v)
	spec := v.spec
	if spec.RingsMM == nil {
		spec = target.Default()
	}
	fit, err := Find(ph, spec, Options{})
	require.NoError(t, err)
	return fit, cam
}

// shift is how far the fit puts a place of the target, as the camera really
// shows it, from where it is, mm.
func shift(fit *Fit, cam *studio.Camera, right, up float64) float64 {
	x, y := cam.Project(right, up, 0)
	r, u := fit.At(point(x, y), 0)
	return math.Hypot(r-right, u-up)
}
