package cause

import (
	"errors"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/locate"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/refusal"
	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/ring/scenes"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/studio/darkroom"
	"burngauge.dev/burngauge/pkg/target"
)

// find is the fit of a photo's target, or the refusal.
func find(ph *photo.Photo, spec target.Spec, opt locate.Options) (*ring.Fit, error) {
	fit, sighting := locate.Target(ph, spec, opt)
	if r := Of(sighting, DefaultSettings()); r != nil {
		return fit, r
	}
	return fit, nil
}

// withoutBar is the default target printed without its index bar.
func withoutBar() target.Spec {
	spec := target.Default()
	spec.Index = target.Index{}
	return spec
}

func TestHiddenIndexIsRefusedByName(t *testing.T) {
	ph, _ := scenes.Take(scenes.View{Spec: withoutBar(), Tilt: 15, Toward: 90})
	_, err := find(ph, target.Default(), locate.Options{})
	assertRefused(t, err, refusal.IndexHidden)
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
			_, err := find(ph, spec, locate.Options{RollPhoto: true})
			var r *refusal.Refusal
			require.True(t, errors.As(err, &r), "%s, %s: %v", name, spec.Name, err)
			assert.Equal(t, refusal.NoTarget, r.Code, "%s, %s", name, spec.Name)
		}
	}
}

// A strip whose short side is less than what finding reduces by.
func TestStripsOnePixelWideAreRefused(t *testing.T) {
	for _, size := range [][2]int{{2000, 1}, {1, 2000}, {9000, 3}} {
		_, err := find(plain(size[0], size[1], func(k int) byte { return byte(k) }), target.Default(), locate.Options{})
		assertRefused(t, err, refusal.NoTarget)
	}
}

// Washers, coins and other people's rings lie on a bench; none is ours.
func TestDecoysAreRefusedAsWhatTheyAre(t *testing.T) {
	for kind, code := range map[studio.ClutterKind]refusal.Code{
		studio.ClutterRings:  refusal.WrongTarget,
		studio.ClutterWasher: refusal.NoTarget,
		studio.ClutterCoin:   refusal.NoTarget,
	} {
		ph, _ := scenes.Take(scenes.View{Tilt: 15, Toward: 45, Change: func(s *studio.Scene, _ *darkroom.Settings) {
			s.Absent = true
			s.Background = studio.Background{Kind: studio.BackPaint, Colour: studio.Grey(0.4), PitchMM: 3, Contrast: 0.1}
			for i := range 6 {
				s.Clutter = append(s.Clutter, studio.Clutter{Kind: kind, Right: float64(i%3)*14 - 14, Up: float64(i/3)*14 - 7,
					RadiusMM: 4 + float64(i)/2, Colour: studio.Grey(0.7), Second: studio.Grey(0.05), Seed: uint32(i)})
			}
		}})
		_, err := find(ph, target.Default(), locate.Options{})
		assertRefused(t, err, code)
	}
}

func TestUnmeasurableViewsAreRefusedByName(t *testing.T) {
	for name, c := range map[string]struct {
		view scenes.View
		code refusal.Code
	}{
		"cut off": {scenes.View{Tilt: 5, AimX: -290}, refusal.CutOff},
		"edge on": {scenes.View{Tilt: 70, Toward: 20, Roll: 30}, refusal.TooTilted},
		"tiny":    {scenes.View{PxPerMM: 2.4, Width: 800, Height: 600}, refusal.TooSmall},
	} {
		ph, _ := scenes.Take(c.view)
		_, err := find(ph, target.Default(), locate.Options{})
		t.Log(name)
		assertRefused(t, err, c.code)
	}
}

// Out of focus until lines of 8 px are 20 px wide. That it is refused is what this
// holds; the fixture too-blurred.jpg must be refused by name.
func TestAPhotoFarOutOfFocusIsRefused(t *testing.T) {
	ph, _ := scenes.Take(scenes.View{Tilt: 10, Width: 1200, Height: 900, PxPerMM: 26, Change: func(_ *studio.Scene, d *darkroom.Settings) { d.DefocusPX = 12 }})
	fit, err := find(ph, target.Default(), locate.Options{})
	assert.Nil(t, fit)
	assert.Error(t, err)
}

func TestAnotherTargetIsDistinguishedFromTheOneAskedFor(t *testing.T) {
	pair, ok := target.Builtin("pair")
	require.True(t, ok)
	ph, _ := scenes.Take(scenes.View{Spec: pair, Tilt: 10, PxPerMM: 20})
	_, err := find(ph, target.Default(), locate.Options{})
	assertRefused(t, err, refusal.WrongTarget)
	assert.Contains(t, err.Error(), "pair")
}

// FuzzFind feeds small pictures of any content and shape: whatever comes, an
// answer or a refusal, and never a panic.
func FuzzFind(f *testing.F) {
	f.Add([]byte{0}, byte(0), byte(0))
	f.Add([]byte{255, 0, 17, 4}, byte(13), byte(50))
	ph, _ := scenes.Take(scenes.View{Width: 80, Height: 72, PxPerMM: 3, Tilt: 20})
	f.Add(ph.Pix, byte(40), byte(32))
	f.Fuzz(func(t *testing.T, data []byte, w, h byte) {
		width, height := 40+int(w)%51, 40+int(h)%51
		ph := plain(width, height, func(k int) byte {
			if len(data) == 0 {
				return 0
			}
			return data[k%len(data)]
		})
		fit, err := find(ph, target.Default(), locate.Options{RollPhoto: w%2 == 0})
		if err != nil {
			var r *refusal.Refusal
			require.True(t, errors.As(err, &r), "%v", err)
			return
		}
		require.NotNil(t, fit)
	})
}

// assertRefused wants a refusal of the code, with a sentence that says
// what to do.
func assertRefused(t *testing.T, err error, code refusal.Code) {
	t.Helper()
	var r *refusal.Refusal
	require.True(t, errors.As(err, &r), "%v", err)
	assert.Equal(t, code, r.Code, r.Text)
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

func specs(t *testing.T) []target.Spec {
	var out []target.Spec
	for _, name := range target.Names() {
		spec, ok := target.Builtin(name)
		require.True(t, ok)
		out = append(out, spec)
	}
	return out
}
