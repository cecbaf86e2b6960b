package burn

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/refusal"
	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/spot"
	"burngauge.dev/burngauge/pkg/spot/scene"
	"burngauge.dev/burngauge/pkg/studio"
)

// find measures the burn as every measurement does.
func find(f *ring.Fit) (*spot.Mark, error) { return Measure(f, DefaultOptions()) }

// burnt is the mark found of one burn, and its error against the burn's own
// moments, which pkg/rehearsal integrates and checks against closed forms.
func burnt(t *testing.T, b studio.Burn) (mark *spot.Mark, right, up float64) {
	t.Helper()
	mark, err := find(scene.Fit(t, func(s *studio.Scene) { s.Burns = []studio.Burn{b} }))
	require.NoError(t, err)
	truth := b.Moments()
	return mark, mark.X - truth.Right, mark.Y - truth.Up
}

const (
	tolBurnMM = 0.03 // between stated and true centre: half a pixel of these scenes is 0.025 mm
	tolSizeMM = 0.20 // size depends on what counts as its edge
)

func TestBurnIsWhereItIs(t *testing.T) {
	for _, c := range [][3]float64{{0.9, 1, 2.6}, {-2.9, 1.0, 2.2}, {0, -3, 1.6}} {
		mark, right, up := burnt(t, scene.Disc(c[0], c[1], c[2]))
		assert.Less(t, math.Hypot(right, up), tolBurnMM, "%v", c)
		assert.InDelta(t, c[2], mark.Major, tolSizeMM)
		assert.InDelta(t, c[2], mark.Minor, tolSizeMM)
		assert.Equal(t, spot.Round, mark.Shape)
		assert.Greater(t, mark.Contrast, 0.5)
		assert.NotEmpty(t, mark.Outline)
	}
}

// On the 8 mm ring's line, at places round it and a little in and out: neither
// a single error nor their mean along the line's normal.
func TestBurnOnARingLineIsNotPulled(t *testing.T) {
	const tolMeanMM = 0.015
	along := 0.0
	places := [][2]float64{{4, 0}, {3.8, 70}, {4.2, 145}, {4, 215}, {4.3, 290}, {3.7, 330}}
	for _, p := range places {
		sin, cos := math.Sincos(p[1] * math.Pi / 180)
		_, right, up := burnt(t, scene.Disc(p[0]*cos, p[0]*sin, 2.2))
		assert.Less(t, math.Hypot(right, up), tolBurnMM, "%v", p)
		along += (right*cos + up*sin) / float64(len(places))
	}
	assert.InDelta(t, 0, along, tolMeanMM)
}

func TestBurnOverTheCrossIsNotPulled(t *testing.T) {
	for _, p := range [][2]float64{{0, 0}, {0.5, 0.2}, {-0.3, -0.7}} {
		_, right, up := burnt(t, scene.Disc(p[0], p[1], 2.4))
		assert.Less(t, math.Hypot(right, up), tolBurnMM, "%v", p)
	}
}

// Ash, or a hole through to a dark machine: the centre stays that of the whole.
func TestAshAndHoleCountAsDark(t *testing.T) {
	ash, hole := scene.Disc(0.8, 0.9, 3.2), scene.Disc(0.8, 0.9, 3.2)
	ash.AshMM, hole.HoleMM = 0.8, 0.7
	for name, b := range map[string]studio.Burn{"ash": ash, "hole": hole} {
		mark, right, up := burnt(t, b)
		assert.Less(t, math.Hypot(right, up), tolBurnMM, name)
		assert.InDelta(t, 3.2, mark.Major, tolSizeMM, name)
	}
}

// The major axis is counted from right towards up.
func TestOvalBurnHasItsAxis(t *testing.T) {
	const tolDeg = 3
	for _, deg := range []float64{30, -50} {
		b := scene.Disc(0.9, -0.8, 3)
		b.Lobes[0].MajorMM, b.Lobes[0].MinorMM, b.Lobes[0].AxisDeg = 1.9, 1.2, deg
		mark, right, up := burnt(t, b)
		assert.Less(t, math.Hypot(right, up), tolBurnMM)
		assert.InDelta(t, deg, mark.Axis*180/math.Pi, tolDeg)
		assert.InDelta(t, 3.8, mark.Major, tolSizeMM)
		assert.InDelta(t, 2.4, mark.Minor, tolSizeMM)
		assert.Equal(t, spot.Oval, mark.Shape)
	}
}

// A clipped disc's centre is its own, not the whole disc's (closed form in
// TestMomentsOfAClippedDisc).
func TestClippedBurnIsMeasuredAsItIs(t *testing.T) {
	b := scene.Disc(0.7, 0.6, 3.4)
	b.Clips = []studio.Clip{{AtMM: 0.7 + 0.5*1.7, SoftMM: 0.1}}
	mark, right, up := burnt(t, b)
	assert.Less(t, math.Hypot(right, up), tolBurnMM)
	assert.Less(t, mark.X, 0.7-0.1*1.7, "pulled away from the straight side")
	assert.Equal(t, spot.Clipped, mark.Shape)
}

// refused wants no mark, and this code.
func refused(t *testing.T, code refusal.Code, change func(s *studio.Scene)) {
	t.Helper()
	_, err := find(scene.Fit(t, change))
	var r *refusal.Refusal
	require.True(t, errors.As(err, &r), "%v", err)
	assert.Equal(t, code, r.Code)
	assert.Equal(t, string(code)+": "+r.Text, r.Error())
}

func TestFreshTapeHasNoMark(t *testing.T) {
	refused(t, refusal.NoMark, func(*studio.Scene) {})
}

func TestWritingIsNotAMark(t *testing.T) {
	pen := studio.Writing{Text: "M1 240", Right: -3.5, Up: -2.6, Deg: 6, SizeMM: 1.6, PenMM: 0.3, Colour: studio.RGB{R: 0.02, G: 0.02, B: 0.06}, Wobble: 0.2}
	refused(t, refusal.NoMark, func(s *studio.Scene) { s.Writings = []studio.Writing{pen} })
	mark, err := find(scene.Fit(t, func(s *studio.Scene) {
		s.Writings, s.Burns = []studio.Writing{pen}, []studio.Burn{scene.Disc(0.9, 1.6, 2.4)}
	}))
	require.NoError(t, err)
	assert.Less(t, math.Hypot(mark.X-0.9, mark.Y-1.6), tolBurnMM)
}

func TestTwoSeparateBurnsAreRefused(t *testing.T) {
	refused(t, refusal.TwoMarks, func(s *studio.Scene) {
		s.Burns = []studio.Burn{scene.Disc(-1.9, 0.6, 2), scene.Disc(1.8, -0.9, 2)}
	})
}

// The red pointer's dot beside the burn adds light; the burn stays where it is.
func TestPointerBesideTheBurnIsIgnored(t *testing.T) {
	b := scene.Disc(-1.2, 0.9, 2.4)
	mark, err := find(scene.Fit(t, func(s *studio.Scene) {
		s.Burns = []studio.Burn{b}
		s.Pointers = []studio.Pointer{{Right: 3, Up: -2.5, LongMM: 0.5, ShortMM: 0.4, Strength: 5, Glow: 0.03, SpeckleMM: 0.1}}
	}))
	require.NoError(t, err)
	assert.Less(t, math.Hypot(mark.X+1.2, mark.Y-0.9), tolBurnMM)
}
