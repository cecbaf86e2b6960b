package ring

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/studio/darkroom"
	"burngauge.dev/burngauge/pkg/target"
)

func point(x, y float64) conic.Point { return conic.Point{X: x, Y: y} }

// Truth of all rendered scenes: the simulated camera's own geometry, which
// pkg/rehearsal checks against OpenCV.
const (
	tolCentreMM = 0.05
	tolIndexDeg = 0.5
	tolTiltDeg  = 3 // rings seen squarely hardly tell their tilt from a lens's axis off the picture's middle
)

func TestCentreIsFoundAtEveryTilt(t *testing.T) {
	for tilt := 0.0; tilt <= 45; tilt += 9 {
		fit, cam := found(t, view{tilt: tilt, toward: 30 + 5*tilt, roll: 3 * tilt})
		assert.Less(t, shift(fit, cam, 0, 0), tolCentreMM, "tilt %g", tilt)
		assert.InDelta(t, cam.ViewDeg(), fit.Pose.Tilt()*180/math.Pi, tolTiltDeg, "tilt %g", tilt)
		assert.Len(t, fit.Seen(), 4)
	}
}

func TestIndexIsFoundAtEveryRoll(t *testing.T) {
	for roll := 0.0; roll < 360; roll += 20 {
		fit, cam := found(t, view{tilt: 20, toward: 70, roll: roll + 3, width: 480, height: 400, pxPerMM: 12})
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
		fit, cam := found(t, view{tilt: 25, toward: 200, roll: 40, k1: k1, aimX: 110, aimY: -50})
		assert.Less(t, shift(fit, cam, 0, 0), tolCentreMM, "k1 %g", k1)
		assert.Less(t, shift(fit, cam, 1.5, -1), tolCentreMM, "k1 %g", k1)
	}
}

func TestLightLinesOnDarkAreFoundAsWell(t *testing.T) {
	for _, tilt := range []float64{0, 30} {
		fit, cam := found(t, view{tilt: tilt, toward: 100, roll: 200, light: true})
		assert.Equal(t, 1.0, fit.Sign)
		assert.Less(t, shift(fit, cam, 0, 0), tolCentreMM, "tilt %g", tilt)
	}
	fit, _ := found(t, view{tilt: 10, toward: 100, roll: 200})
	assert.Equal(t, -1.0, fit.Sign)
}

// Twice as many pixels of the same scene: the same place on the target.
func TestScaleOfThePictureDoesNotMatter(t *testing.T) {
	for _, k := range []int{1, 2, 3} {
		fit, cam := found(t, view{tilt: 20, toward: 10, roll: 77, width: 480 * k, height: 400 * k, pxPerMM: 12 * float64(k)})
		assert.Less(t, shift(fit, cam, 2, 1), tolCentreMM, "%d times", k)
		assert.InEpsilon(t, 12*float64(k)*math.Sqrt(math.Cos(20*math.Pi/180)), fit.PxPerMM(), 0.02)
	}
}

func TestDisagreeingPriorFocalLengthDoesNotMoveTheCentre(t *testing.T) {
	ph, cam := take(view{tilt: 30, toward: 60, roll: 10})
	for _, f35 := range []float64{0, 24, 28} { // unknown, or a wrong lens's
		ph.Focal35MM = f35
		fit, err := Find(ph, target.Default(), Options{})
		require.NoError(t, err)
		assert.Less(t, shift(fit, cam, 0, 0), tolCentreMM, "%g mm", f35)
	}
}

func TestHiddenIndexIsRefusedByName(t *testing.T) {
	ph, _ := take(view{spec: withoutBar(), tilt: 15, toward: 90})
	_, err := Find(ph, target.Default(), Options{})
	assertRefused(t, err, IndexHidden)
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
			ph, cam := take(view{spec: withoutBar(), tilt: tilt, toward: toward})
			fit, err := Find(ph, target.Default(), Options{RollPhoto: true})
			require.NoError(t, err)
			assert.False(t, fit.Indexed)
			assert.InDelta(t, 0, fit.Roll(), 1e-4)
			assert.Less(t, shift(fit, cam, 0, 0), tolCentreMM)
			assert.Less(t, shift(fit, cam, 0, 5), tolCentreMM, "tilt %g toward %g", tilt, toward)
		}
	}
}

// assertRefused wants a refusal of one of the codes, with a sentence that says
// what to do.
func assertRefused(t *testing.T, err error, codes ...Code) {
	t.Helper()
	var r *Refusal
	require.True(t, errors.As(err, &r), "%v", err)
	assert.Contains(t, codes, r.Code, r.Text)
	assert.Greater(t, len(r.Text), 40)
	assert.Equal(t, string(r.Code)+": "+r.Text, r.Error())
}

// plain is a picture whose pixels a function gives.
func plain(width, height int, grey func(k int) byte) *photo.Photo {
	ph := &photo.Photo{Image: photo.Image{Width: width, Height: height, Pix: make([]byte, 3*width*height)}}
	for k := range ph.Pix {
		ph.Pix[k] = grey(k)
	}
	ph.Facts.Width, ph.Facts.Height = width, height
	return ph
}

func TestPicturesWithoutATargetAreRefused(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for name, ph := range map[string]*photo.Photo{
		"black":        plain(400, 300, func(int) byte { return 0 }),
		"grey":         plain(400, 300, func(int) byte { return 128 }),
		"noise":        plain(400, 300, func(int) byte { return byte(rng.Uint32()) }),
		"one pixel":    plain(1, 1, func(int) byte { return 200 }),
		"four pixels":  plain(2, 2, func(k int) byte { return byte(60 * (k / 3)) }),
		"three pixels": plain(3, 1, func(k int) byte { return byte(20 * k) }),
	} {
		for _, spec := range specs(t) {
			_, err := Find(ph, spec, Options{RollPhoto: true})
			var r *Refusal
			require.True(t, errors.As(err, &r), "%s, %s: %v", name, spec.Name, err)
			assert.Equal(t, NoTarget, r.Code, "%s, %s", name, spec.Name)
		}
	}
}

// A strip whose short side is less than what finding reduces by.
func TestStripsOnePixelWideAreRefused(t *testing.T) {
	for _, size := range [][2]int{{2000, 1}, {1, 2000}, {9000, 3}} {
		_, err := Find(plain(size[0], size[1], func(k int) byte { return byte(k) }), target.Default(), Options{})
		assertRefused(t, err, NoTarget)
	}
}

func specs(t *testing.T) []target.Spec {
	var out []target.Spec
	for _, name := range target.Names() {
		spec, ok := target.Builtin(name)
		require.True(t, ok)
		out = append(out, spec)
	}
	return out
}

// Screws, washers, coins and a strange target lie on a bench; none is ours.
func TestDecoysAreRefused(t *testing.T) {
	for _, kind := range []studio.ClutterKind{studio.ClutterRings, studio.ClutterWasher, studio.ClutterCoin} {
		ph, _ := take(view{tilt: 15, toward: 45, change: func(s *studio.Scene, _ *darkroom.Settings) {
			s.Absent = true
			s.Background = studio.Background{Kind: studio.BackPaint, Colour: studio.Grey(0.4), PitchMM: 3, Contrast: 0.1}
			for i := range 6 {
				s.Clutter = append(s.Clutter, studio.Clutter{Kind: kind, Right: float64(i%3)*14 - 14, Up: float64(i/3)*14 - 7,
					RadiusMM: 4 + float64(i)/2, Colour: studio.Grey(0.7), Second: studio.Grey(0.05), Seed: uint32(i)})
			}
		}})
		fit, err := Find(ph, target.Default(), Options{})
		if fit != nil {
			t.Logf("kind %d: centre %v, %.1f px/mm, %+v", kind, fit.Pixel(0, 0), fit.PxPerMM(), fit.Seen())
		}
		// That it is refused is what counts; soft washers and rings that run out of
		// the picture may be named by what is wrong with them.
		assertRefused(t, err, NoTarget, RingsUnclear, WrongTarget, Blurred, CutOff)
	}
}

// Decoys beside the target do not win over it.
func TestTargetIsFoundAmongDecoys(t *testing.T) {
	fit, cam := found(t, view{tilt: 15, toward: 45, pxPerMM: 9, change: func(s *studio.Scene, _ *darkroom.Settings) {
		for i, kind := range []studio.ClutterKind{studio.ClutterWasher, studio.ClutterCoin, studio.ClutterHexScrew, studio.ClutterRings} {
			s.Clutter = append(s.Clutter, studio.Clutter{Kind: kind, Right: 20 * [4]float64{1, 1, -1, -1}[i], Up: 14 * [4]float64{1, -1, 1, -1}[i],
				RadiusMM: 7, Colour: studio.Grey(0.3), Second: studio.Grey(0.02), OnPlate: true, Seed: uint32(i)})
		}
	}})
	assert.Less(t, shift(fit, cam, 0, 0), tolCentreMM)
}

func TestUnmeasurableViewsAreRefusedByName(t *testing.T) {
	for name, c := range map[string]struct {
		view view
		code []Code
	}{
		"cut off":      {view{tilt: 5, aimX: -290}, []Code{CutOff}},
		"edge on":      {view{tilt: 70, toward: 20, roll: 30}, []Code{TooTilted}},
		"tiny":         {view{pxPerMM: 2.4, width: 800, height: 600}, []Code{TooSmall, NoTarget}},
		"out of focus": {view{tilt: 10, change: func(_ *studio.Scene, d *darkroom.Settings) { d.DefocusPX = 14 }}, []Code{Blurred, RingsUnclear, NoTarget, IndexHidden}},
	} {
		ph, _ := take(c.view)
		_, err := Find(ph, target.Default(), Options{})
		t.Log(name, err)
		assertRefused(t, err, c.code...)
	}
}

func TestAnotherTargetIsToldFromTheOneAskedFor(t *testing.T) {
	pair, ok := target.Builtin("pair")
	require.True(t, ok)
	ph, _ := take(view{spec: pair, tilt: 10, pxPerMM: 20})
	_, err := Find(ph, target.Default(), Options{})
	assertRefused(t, err, WrongTarget)
	assert.Contains(t, err.Error(), "pair")
}

// FuzzFind feeds small pictures of any content and shape: whatever comes, an
// answer or a refusal, and never a panic.
func FuzzFind(f *testing.F) {
	f.Add([]byte{0}, byte(0), byte(0))
	f.Add([]byte{255, 0, 17, 4}, byte(13), byte(50))
	ph, _ := take(view{width: 80, height: 72, pxPerMM: 3, tilt: 20})
	f.Add(ph.Pix, byte(40), byte(32))
	f.Fuzz(func(t *testing.T, data []byte, w, h byte) {
		width, height := 40+int(w)%51, 40+int(h)%51
		ph := plain(width, height, func(k int) byte {
			if len(data) == 0 {
				return 0
			}
			return data[k%len(data)]
		})
		fit, err := Find(ph, target.Default(), Options{RollPhoto: w%2 == 0})
		if err != nil {
			var r *Refusal
			require.True(t, errors.As(err, &r), "%v", err)
			return
		}
		require.NotNil(t, fit)
	})
}
