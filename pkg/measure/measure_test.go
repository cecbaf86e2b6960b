package measure

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/spot"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/studio/darkroom"
	"burngauge.dev/burngauge/pkg/target"
)

const tolExact = 1e-9

// By hand on plain-4 (circles of radius 2, 4, 6 and 8 mm): 3 mm lies halfway
// from the first circle to the second, 9 mm half a ring beyond the last.
func TestOffsetIsStatedInMillimetresClockAndRings(t *testing.T) {
	for _, c := range []struct {
		right, up, distance, rings float64
		clock                      string
	}{
		{3, 0, 3, 1.5, "3:00"}, {0, 1, 1, 0.5, "12:00"}, {-5, 0, 5, 2.5, "9:00"},
		{0, -9, 9, 4.5, "6:00"}, {3, 4, 5, 2.5, "1:00"}, {1.2, 1.6, 2, 1, "1:00"},
	} {
		o := offset(&spot.Mark{X: c.right, Y: c.up}, target.Default())
		assert.Equal(t, c.right, o.RightMM)
		assert.Equal(t, c.up, o.UpMM)
		assert.InDelta(t, c.distance, o.DistanceMM, tolExact)
		assert.InDelta(t, c.rings, o.Rings, tolExact)
		assert.Equal(t, c.clock, o.Clock)
	}
}

// A limit far larger than the uncertainty is as good as a straight line, across which the
// probability is one-sided: the normal distribution function is 0.95 at 1.6449 standard
// uncertainties (any table of it).
func TestVerdictStandsBackFromTheLimit(t *testing.T) {
	const u, limit = 0.001, 2.0
	cov := coverage.Isotropic(u)
	w := work{set: DefaultSettings()}
	for _, c := range []struct {
		x     float64
		state string
	}{
		{0, "inside"}, {limit - 1.70*u, "inside"}, {limit - 1.60*u, "borderline"}, {limit, "borderline"},
		{limit + 1.60*u, "borderline"}, {limit + 1.70*u, "outside"}, {5, "outside"},
	} {
		v := w.verdict(&spot.Mark{X: c.x * 0.6, Y: -c.x * 0.8}, cov, limit)
		assert.Equal(t, c.state, v.State, "%g", c.x)
		assert.Equal(t, limit, v.LimitMM)
		assert.NotEmpty(t, v.Rule)
	}
}

func TestLimitIsTheInnerRingUnlessGiven(t *testing.T) {
	opt := DefaultOptions()
	assert.Equal(t, 2.0, opt.limit())
	opt.LimitMM = 0.75
	assert.Equal(t, 0.75, opt.limit())
}

// someBudget has parts along different directions.
func someBudget() budget {
	return budget{
		{"a", "A", [2][2]float64{{4e-4, 1e-4}, {1e-4, 1e-4}}},
		{"b", "B", coverage.Isotropic(0.01)},
		{"c", "B", [2][2]float64{{1e-4, -2e-4}, {-2e-4, 4e-4}}},
	}
}

func TestPartsAddToTheWhole(t *testing.T) {
	b := someBudget()
	u := b.uncertainty(0.95)
	assert.InDelta(t, 6e-4, u.CovarianceMM2[0][0], 1e-15)
	assert.InDelta(t, 6e-4, u.CovarianceMM2[1][1], 1e-15)
	assert.InDelta(t, -1e-4, u.CovarianceMM2[0][1], 1e-15)
	assert.Equal(t, u.CovarianceMM2[0][1], u.CovarianceMM2[1][0])
	assert.Equal(t, coverage.Radius(u.CovarianceMM2, u.Coverage), u.RadiusMM)
	assert.Equal(t, 0.95, u.Coverage)
	require.Len(t, u.Budget, 3)
	sum := 0.0
	for _, c := range u.Budget {
		sum += c.UMM * c.UMM
	}
	assert.InDelta(t, 6e-4, sum, 1e-15) // root mean square over two axes
}

// A surface h above the rings that is seen at the angle t moves by h tan t, all of it along the
// tilt: for u = 0.04 mm at 12 degrees the root mean square over two axes is
// 0.04 tan 12° / √2 = 0.0060 mm. On the rings' own plane nothing is uncertain.
func TestTheTapesHeightMovesTheMarkAlongTheTilt(t *testing.T) {
	part := func(u float64) (tape float64, whole *report.Uncertainty) {
		opt := DefaultOptions()
		opt.Target.TapeUMM = u
		res := Photo(shot(0.9, -0.6, false, 30), opt)
		require.Len(t, res.Measurements, 1)
		whole = res.Measurements[0].Uncertainty
		require.NotNil(t, whole)
		for _, c := range whole.Budget {
			if c.Source == "tape height" {
				tape = c.UMM
			}
		}
		return tape, whole
	}
	none, without := part(0)
	some, with := part(0.04)
	assert.Zero(t, none)
	// The tilt is found to 0.6 degrees: TestPhotoIsMeasuredWithinItsUncertainty.
	assert.InDelta(t, 0.04*math.Tan(12*math.Pi/180)/math.Sqrt2, some, 0.04*0.6*math.Pi/180)
	xx := with.CovarianceMM2[0][0] - without.CovarianceMM2[0][0]
	yy := with.CovarianceMM2[1][1] - without.CovarianceMM2[1][1]
	xy := with.CovarianceMM2[0][1] - without.CovarianceMM2[0][1]
	assert.InDelta(t, 2*some*some, xx+yy, 1e-12)
	assert.InDelta(t, 0, xx*yy-xy*xy, 1e-14, "nothing across the tilt")
}

// JCGM 101:2008: draw every part, add, and see how often the sum lies within
// the stated circle. The trial's own standard deviation is √(0.95·0.05/n).
func TestStatedCircleHoldsItsShareOfAMonteCarloTrial(t *testing.T) {
	const trials = 200000
	b, rng := someBudget(), rand.New(rand.NewPCG(1, 2))
	radius, inside := b.uncertainty(0.95).RadiusMM, 0
	for range trials {
		var x, y float64
		for _, s := range b { // by Cholesky's factor of each part
			a := math.Sqrt(s.cov[0][0])
			c := s.cov[0][1] / a
			d := math.Sqrt(max(0, s.cov[1][1]-c*c))
			p, q := rng.NormFloat64(), rng.NormFloat64()
			x, y = x+a*p, y+c*p+d*q
		}
		if math.Hypot(x, y) <= radius {
			inside++
		}
	}
	assert.InDelta(t, 0.95, float64(inside)/trials, 4*math.Sqrt(0.95*0.05/trials))
}

// shot is a rendered photo of the default target with a burn (and a pointer).
func shot(right, up float64, pointer bool, roll float64) *photo.Photo {
	const width, height = 640, 560
	focal := studio.FocalFrom35(26, width, height)
	cam := studio.Camera{Width: width, Height: height, FocalPX: focal, Middle: [2]float64{(width - 1) / 2.0, (height - 1) / 2.0}}
	cam.Aim(studio.Pose{TiltDeg: 12, TowardDeg: 100, RollDeg: roll}, 322, 276, focal/20)
	s := studio.Scene{Target: target.Default(), Seed: 5,
		Look:   studio.Look{Paper: studio.Grey(0.6), Ink: studio.Grey(0.05)},
		Lights: studio.Lights{Ambient: studio.Grey(1)},
		Tapes:  []studio.Tape{{WidthMM: 90, Colour: studio.RGB{R: 0.62, G: 0.55, B: 0.4}, Through: 0.35, Seed: 4}},
		Burns: []studio.Burn{{Lobes: []studio.Lobe{{Right: right, Up: up, MajorMM: 1.2, MinorMM: 1.2, EdgeMM: 0.2}},
			Strength: 0.97, Seed: 3}},
	}
	if pointer {
		s.Pointers = []studio.Pointer{{Right: 2.5, Up: -2.4, LongMM: 0.5, ShortMM: 0.45, Strength: 5, Glow: 0.03, SpeckleMM: 0.1}}
	}
	img := darkroom.Default().Photo(studio.Render(&s, &cam))
	ph := &photo.Photo{Image: photo.Image{Width: width, Height: height, Pix: make([]byte, 3*width*height)}}
	for k := range width * height {
		ph.Pix[3*k], ph.Pix[3*k+1], ph.Pix[3*k+2] = img.Pix[4*k+2], img.Pix[4*k+1], img.Pix[4*k]
	}
	ph.Facts = photo.Facts{File: "rendered.jpg", Width: width, Height: height, Focal35MM: 26, HasEXIF: true}
	return ph
}

// measured is the one measurement of a photo that must be measured.
func measured(t *testing.T, ph *photo.Photo) report.Measurement {
	t.Helper()
	res := Photo(ph, DefaultOptions())
	require.Len(t, res.Measurements, 1)
	require.Equal(t, report.Measured, res.Measurements[0].Status, "%+v", res.Measurements[0].Refusal)
	return res.Measurements[0]
}

func TestPhotoIsMeasuredWithinItsUncertainty(t *testing.T) {
	for _, p := range [][2]float64{{0.9, -0.6}, {-3.1, 1.2}} {
		m := measured(t, shot(p[0], p[1], false, 30))
		miss := math.Hypot(m.Offset.RightMM-p[0], m.Offset.UpMM-p[1])
		assert.Less(t, miss, m.Uncertainty.RadiusMM)
		assert.Less(t, m.Uncertainty.RadiusMM, 0.1)
		assert.Equal(t, coverage.Radius(m.Uncertainty.CovarianceMM2, 0.95), m.Uncertainty.RadiusMM)
		// Of a tilt little shows: cos 12° is 0.978. Both come out 0.4 degrees off.
		assert.InDelta(t, 30, m.View.RollDeg, 0.6)
		assert.InDelta(t, 12, m.View.TiltDeg, 0.6)
		assert.Equal(t, map[bool]string{true: "inside", false: "outside"}[math.Hypot(p[0], p[1]) < 2], m.Verdict.State)
		require.Nil(t, m.Refusal)
	}
}

// turned is the picture a quarter turn clockwise.
func turned(ph *photo.Photo) *photo.Photo {
	w, h := ph.Image.Width, ph.Image.Height
	return moved(ph, h, w, func(x, y int) (int, int) { return h - 1 - y, x })
}

// moved is the picture with its pixels at other places.
func moved(ph *photo.Photo, width, height int, to func(x, y int) (int, int)) *photo.Photo {
	out := *ph
	out.Image = photo.Image{Width: width, Height: height, Pix: make([]byte, len(ph.Pix))}
	out.Facts.Width, out.Facts.Height = width, height
	for k := range ph.Image.Width * ph.Image.Height {
		x, y := to(k%ph.Image.Width, k/ph.Image.Width)
		copy(out.Pix[3*(y*width+x):][:3], ph.Pix[3*k:][:3])
	}
	return &out
}

// The index mark, not the photo's top, says where up is.
func TestTurningThePhotoLeavesTheOffset(t *testing.T) {
	const tolTurnMM = 0.01
	ph := shot(1.1, -0.7, false, 15)
	want := measured(t, ph).Offset
	for range 3 {
		ph = turned(ph)
		got := measured(t, ph).Offset
		assert.InDelta(t, want.RightMM, got.RightMM, tolTurnMM)
		assert.InDelta(t, want.UpMM, got.UpMM, tolTurnMM)
	}
}

// A mirror image shows the mark on the other side of the index mark's axis.
func TestMirroringThePhotoMirrorsTheOffset(t *testing.T) {
	const tolTurnMM = 0.01
	ph := shot(1.1, -0.7, false, 15)
	want := measured(t, ph).Offset
	w := ph.Image.Width
	got := measured(t, moved(ph, w, ph.Image.Height, func(x, y int) (int, int) { return w - 1 - x, y })).Offset
	assert.InDelta(t, -want.RightMM, got.RightMM, tolTurnMM)
	assert.InDelta(t, want.UpMM, got.UpMM, tolTurnMM)
}

func TestBothMarksGiveTwoMeasurements(t *testing.T) {
	opt := DefaultOptions()
	opt.Mark = Both
	res := Photo(shot(-0.9, 0.8, true, 0), opt)
	require.Len(t, res.Measurements, 2)
	require.Len(t, res.Outlines, 2)
	const tolMM = 0.02 // 0.4 px of this photo; the two are usually 0.006 mm off
	for i, want := range []struct {
		mark      string
		right, up float64
	}{{Burn, -0.9, 0.8}, {Pointer, 2.5, -2.4}} {
		m := res.Measurements[i]
		assert.Equal(t, want.mark, m.Mark)
		require.Equal(t, report.Measured, m.Status, "%+v", m.Refusal)
		assert.InDelta(t, want.right, m.Offset.RightMM, tolMM)
		assert.InDelta(t, want.up, m.Offset.UpMM, tolMM)
		assert.NotEmpty(t, res.Outlines[i])
	}
}

// One mark may be there and the other not; each says so for itself.
func TestAMissingPointerDoesNotStopTheBurn(t *testing.T) {
	opt := DefaultOptions()
	opt.Mark = Both
	res := Photo(shot(-0.9, 0.8, false, 0), opt)
	require.Len(t, res.Measurements, 2)
	assert.Equal(t, report.Measured, res.Measurements[0].Status)
	assert.Equal(t, report.Refused, res.Measurements[1].Status)
	require.NotNil(t, res.Measurements[1].Refusal)
	assert.Equal(t, "no-mark", res.Measurements[1].Refusal.Code)
	assert.Nil(t, res.Measurements[1].Offset)
	assert.Nil(t, res.Outlines[1])
}

func TestUnreadableFilesSayWhy(t *testing.T) {
	dir := t.TempDir()
	write := func(name, content string) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, []byte(content), 0o600))
		return path
	}
	opt := DefaultOptions()
	opt.Mark = Both
	for path, code := range map[string]string{
		filepath.Join(dir, "missing.jpg"):       "not-found",
		write("empty.jpg", ""):                  "empty",
		write("text.jpg", "this is no picture"): "not-an-image",
		dir:                                     "not-an-image",
	} {
		res := File(path, opt)
		require.Len(t, res.Measurements, 2, path)
		for _, m := range res.Measurements {
			assert.Equal(t, report.Unreadable, m.Status)
			require.NotNil(t, m.Refusal, path)
			assert.Equal(t, code, m.Refusal.Code, path)
			assert.NotEmpty(t, m.Refusal.Text)
			assert.Equal(t, filepath.Base(path), m.Photo.File)
			assert.Nil(t, m.Offset)
		}
		assert.Nil(t, res.Photo)
		assert.Nil(t, res.ToPixel)
	}
}

func TestAPhotoWithoutATargetIsRefusedForEveryMark(t *testing.T) {
	opt := DefaultOptions()
	opt.Mark = Both
	ph := &photo.Photo{Image: photo.Image{Width: 120, Height: 90, Pix: make([]byte, 3*120*90)}}
	res := Photo(ph, opt)
	require.Len(t, res.Measurements, 2)
	for _, m := range res.Measurements {
		assert.Equal(t, report.Refused, m.Status)
		require.NotNil(t, m.Refusal)
		assert.Equal(t, "no-target", m.Refusal.Code)
		assert.Nil(t, m.Offset)
		assert.Nil(t, m.Verdict)
	}
}

// The facts of a phone's own file, of one that a messenger shrank and kept the
// facts of, and of one that lost them at full size.
func TestAShrunkOrStrippedPhotoIsWarnedOf(t *testing.T) {
	own := photo.Facts{Camera: "Acme P1", Taken: "2026-09-02T09:14:11"}
	for _, c := range []struct {
		name          string
		facts         photo.Facts
		width, height int
		warned        bool
	}{
		{"own", own, 4032, 3024, false},
		{"own, small setting", own, 1920, 1080, false},
		{"without a date", photo.Facts{Camera: "Acme P1"}, 4032, 3024, false},
		{"shrunk", own, 1280, 960, true},
		{"stripped", photo.Facts{}, 4032, 3024, true},
		{"shrunk and stripped", photo.Facts{}, 1600, 1200, true},
		{"orientation alone", photo.Facts{HasEXIF: true, Orientation: 6}, 1600, 1200, true},
	} {
		assert.Equal(t, c.warned, shrunk(c.facts, c.width, c.height, DefaultSettings(), nil), c.name)
	}
}
