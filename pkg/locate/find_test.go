package locate

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/ring/scenes"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/studio/darkroom"
	"burngauge.dev/burngauge/pkg/target"
)

// found is the fit of a rendered target that must be found.
func found(t *testing.T, v scenes.View) (*ring.Fit, *studio.Camera) {
	t.Helper()
	ph, cam := scenes.Take(v)
	spec := v.Spec
	if spec.RingsMM == nil {
		spec = target.Default()
	}
	fit, sighting := Target(ph, spec, Options{})
	require.NotNil(t, fit, "failure %d", sighting.Failure)
	return fit, cam
}

// shift is how far the fit puts a place of the target, as the camera really
// shows it, from where it is, mm.
func shift(fit *ring.Fit, cam *studio.Camera, right, up float64) float64 {
	x, y := cam.Project(right, up, 0)
	r, u := fit.At(point(x, y), 0)
	return math.Hypot(r-right, u-up)
}

func point(x, y float64) conic.Point { return conic.Point{X: x, Y: y} }

// Truth of all rendered scenes: the simulated camera's own geometry, which
// pkg/rehearsal checks against OpenCV.
const (
	tolCentreMM = 0.05
	tolIndexDeg = 0.5
	tolTiltDeg  = 3 // rings seen squarely hardly distinguish their tilt from a lens's axis off the picture's middle
)

func TestCentreIsFoundAtEveryTilt(t *testing.T) {
	for tilt := 0.0; tilt <= 45; tilt += 9 {
		fit, cam := found(t, scenes.View{Tilt: tilt, Toward: 30 + 5*tilt, Roll: 3 * tilt})
		assert.Less(t, shift(fit, cam, 0, 0), tolCentreMM, "tilt %g", tilt)
		assert.InDelta(t, cam.ViewDeg(), fit.Pose.Tilt()*180/math.Pi, tolTiltDeg, "tilt %g", tilt)
		assert.Len(t, fit.Seen(), 4)
	}
}

func TestIndexIsFoundAtEveryRoll(t *testing.T) {
	for roll := 0.0; roll < 360; roll += 20 {
		fit, cam := found(t, scenes.View{Tilt: 20, Toward: 70, Roll: roll + 3, Width: 480, Height: 400, PxPerMM: 12})
		require.True(t, fit.Indexed)
		x, y := cam.Project(0, 10, 0)
		right, up := fit.At(point(x, y), 0)
		assert.InDelta(t, 0, math.Atan2(right, up)*180/math.Pi, tolIndexDeg, "roll %g", roll)
		assert.Less(t, shift(fit, cam, 0, 0), tolCentreMM, "roll %g", roll)
	}
}

// Off the picture's middle, where a lens bends most.
func TestLensDoesNotMoveTheCentre(t *testing.T) {
	for _, k1 := range []float64{-0.06, 0.06} {
		fit, cam := found(t, scenes.View{Tilt: 25, Toward: 200, Roll: 40, K1: k1, AimX: 110, AimY: -50})
		assert.Less(t, shift(fit, cam, 0, 0), tolCentreMM, "k1 %g", k1)
		assert.Less(t, shift(fit, cam, 1.5, -1), tolCentreMM, "k1 %g", k1)
	}
}

func TestLightLinesOnDarkAreFoundAsWell(t *testing.T) {
	for _, tilt := range []float64{0, 30} {
		fit, cam := found(t, scenes.View{Tilt: tilt, Toward: 100, Roll: 200, Light: true})
		assert.Equal(t, 1.0, fit.Sign)
		assert.Less(t, shift(fit, cam, 0, 0), tolCentreMM, "tilt %g", tilt)
	}
	fit, _ := found(t, scenes.View{Tilt: 10, Toward: 100, Roll: 200})
	assert.Equal(t, -1.0, fit.Sign)
}

// Twice as many pixels of the same scene: the same place on the target.
func TestScaleOfThePictureDoesNotMatter(t *testing.T) {
	for _, k := range []int{1, 2, 3} {
		fit, cam := found(t, scenes.View{Tilt: 20, Toward: 10, Roll: 77, Width: 480 * k, Height: 400 * k, PxPerMM: 12 * float64(k)})
		assert.Less(t, shift(fit, cam, 2, 1), tolCentreMM, "%d times", k)
		assert.InEpsilon(t, 12*float64(k)*math.Sqrt(math.Cos(20*math.Pi/180)), fit.PxPerMM(), 0.02)
	}
}

func TestDisagreeingPriorFocalLengthDoesNotMoveTheCentre(t *testing.T) {
	ph, cam := scenes.Take(scenes.View{Tilt: 30, Toward: 60, Roll: 10})
	for _, f35 := range []float64{0, 24, 28} { // unknown, or a wrong lens's
		ph.Focal35MM = f35
		fit, _ := Target(ph, target.Default(), Options{})
		require.NotNil(t, fit)
		assert.Less(t, shift(fit, cam, 0, 0), tolCentreMM, "%g mm", f35)
	}
}

// withoutBar is the default target printed without its index bar.
func withoutBar() target.Spec {
	spec := target.Default()
	spec.Index = target.Index{}
	return spec
}

// Tilted about the picture's own x or y axis, a target whose up is the
// photo's up shows it upright at its centre, however steep the view.
func TestRollFromThePhotoTakesItsTopForUp(t *testing.T) {
	for _, tilt := range []float64{15, 45} {
		for _, toward := range []float64{0, 90} {
			ph, cam := scenes.Take(scenes.View{Spec: withoutBar(), Tilt: tilt, Toward: toward})
			fit, _ := Target(ph, target.Default(), Options{RollPhoto: true})
			require.NotNil(t, fit)
			assert.False(t, fit.Indexed)
			assert.InDelta(t, 0, fit.Roll(), 1e-4)
			assert.Less(t, shift(fit, cam, 0, 0), tolCentreMM)
			assert.Less(t, shift(fit, cam, 0, 5), tolCentreMM, "tilt %g toward %g", tilt, toward)
		}
	}
}

// Decoys beside the target do not win over it.
func TestTargetIsFoundAmongDecoys(t *testing.T) {
	fit, cam := found(t, scenes.View{Tilt: 15, Toward: 45, PxPerMM: 9, Change: func(s *studio.Scene, _ *darkroom.Settings) {
		for i, kind := range []studio.ClutterKind{studio.ClutterWasher, studio.ClutterCoin, studio.ClutterHexScrew, studio.ClutterRings} {
			s.Clutter = append(s.Clutter, studio.Clutter{Kind: kind, Right: 20 * [4]float64{1, 1, -1, -1}[i], Up: 14 * [4]float64{1, -1, 1, -1}[i],
				RadiusMM: 7, Colour: studio.Grey(0.3), Second: studio.Grey(0.02), OnPlate: true, Seed: uint32(i)})
		}
	}})
	assert.Less(t, shift(fit, cam, 0, 0), tolCentreMM)
}
