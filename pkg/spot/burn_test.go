package spot

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/studio/darkroom"
	"burngauge.dev/burngauge/pkg/target"
)

// disc is a plain round burn.
func disc(right, up, diameter float64) studio.Burn {
	return studio.Burn{Lobes: []studio.Lobe{{Right: right, Up: up, MajorMM: diameter / 2, MinorMM: diameter / 2, EdgeMM: 0.2}}, Strength: 0.97, Seed: 3}
}

// looked is the fit of a rendered scene: the default target, tilted a little,
// 20 px/mm, with what change adds.
func looked(t *testing.T, change func(s *studio.Scene)) *ring.Fit {
	t.Helper()
	const width, height = 640, 560
	focal := studio.FocalFrom35(26, width, height)
	cam := studio.Camera{Width: width, Height: height, FocalPX: focal, Middle: [2]float64{(width - 1) / 2.0, (height - 1) / 2.0}}
	cam.Aim(studio.Pose{TiltDeg: 14, TowardDeg: 40, RollDeg: 25}, 318, 281, focal/20)
	s := studio.Scene{Target: target.Default(), Seed: 5,
		Look:   studio.Look{Paper: studio.Grey(0.6), Ink: studio.Grey(0.05)},
		Lights: studio.Lights{Ambient: studio.Grey(1)},
		Tapes:  []studio.Tape{{WidthMM: 90, Colour: studio.RGB{R: 0.62, G: 0.55, B: 0.4}, Through: 0.35, Crepe: 0.02, CrepeMM: 0.6, Seed: 4}},
	}
	s.Target.TapeMM = target.Default().TapeMM
	change(&s)
	img := darkroom.Default().Photo(studio.Render(&s, &cam))
	ph := &photo.Photo{Image: photo.Image{Width: width, Height: height, Pix: make([]byte, 3*width*height)}}
	for k := range width * height {
		ph.Pix[3*k], ph.Pix[3*k+1], ph.Pix[3*k+2] = img.Pix[4*k+2], img.Pix[4*k+1], img.Pix[4*k]
	}
	ph.Facts = photo.Facts{Width: width, Height: height, Focal35MM: 26, HasEXIF: true}
	fit, err := ring.Find(ph, target.Default(), ring.Options{})
	require.NoError(t, err)
	return fit
}

// burnt is the mark found of one burn, and its error against the burn's own
// moments, which pkg/rehearsal integrates and checks against closed forms.
func burnt(t *testing.T, b studio.Burn) (mark *Mark, right, up float64) {
	t.Helper()
	mark, err := Burn(looked(t, func(s *studio.Scene) { s.Burns = []studio.Burn{b} }))
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
		mark, right, up := burnt(t, disc(c[0], c[1], c[2]))
		assert.Less(t, math.Hypot(right, up), tolBurnMM, "%v", c)
		assert.InDelta(t, c[2], mark.Major, tolSizeMM)
		assert.InDelta(t, c[2], mark.Minor, tolSizeMM)
		assert.Equal(t, "round", mark.Shape)
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
		_, right, up := burnt(t, disc(p[0]*cos, p[0]*sin, 2.2))
		assert.Less(t, math.Hypot(right, up), tolBurnMM, "%v", p)
		along += (right*cos + up*sin) / float64(len(places))
	}
	assert.InDelta(t, 0, along, tolMeanMM)
}

func TestBurnOverTheCrossIsNotPulled(t *testing.T) {
	for _, p := range [][2]float64{{0, 0}, {0.5, 0.2}, {-0.3, -0.7}} {
		_, right, up := burnt(t, disc(p[0], p[1], 2.4))
		assert.Less(t, math.Hypot(right, up), tolBurnMM, "%v", p)
	}
}

// Ash, or a hole through to a dark machine: the centre stays that of the whole.
func TestAshAndHoleCountAsDark(t *testing.T) {
	ash, hole := disc(0.8, 0.9, 3.2), disc(0.8, 0.9, 3.2)
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
		b := disc(0.9, -0.8, 3)
		b.Lobes[0].MajorMM, b.Lobes[0].MinorMM, b.Lobes[0].AxisDeg = 1.9, 1.2, deg
		mark, right, up := burnt(t, b)
		assert.Less(t, math.Hypot(right, up), tolBurnMM)
		assert.InDelta(t, deg, mark.Axis*180/math.Pi, tolDeg)
		assert.InDelta(t, 3.8, mark.Major, tolSizeMM)
		assert.InDelta(t, 2.4, mark.Minor, tolSizeMM)
		assert.Equal(t, "oval", mark.Shape)
	}
}

// A clipped disc's centre is its own, not the whole disc's (closed form in
// TestMomentsOfAClippedDisc).
func TestClippedBurnIsMeasuredAsItIs(t *testing.T) {
	b := disc(0.7, 0.6, 3.4)
	b.Clips = []studio.Clip{{AtMM: 0.7 + 0.5*1.7, SoftMM: 0.1}}
	mark, right, up := burnt(t, b)
	assert.Less(t, math.Hypot(right, up), tolBurnMM)
	assert.Less(t, mark.X, 0.7-0.1*1.7, "pulled away from the straight side")
	assert.Equal(t, "clipped", mark.Shape)
}

// refused wants no mark, and this code.
func refused(t *testing.T, code Code, change func(s *studio.Scene)) {
	t.Helper()
	_, err := Burn(looked(t, change))
	var r *Refusal
	require.True(t, errors.As(err, &r), "%v", err)
	assert.Equal(t, code, r.Code)
	assert.Equal(t, string(code)+": "+r.Text, r.Error())
}

func TestFreshTapeHasNoMark(t *testing.T) {
	refused(t, NoMark, func(*studio.Scene) {})
}

func TestWritingIsNotAMark(t *testing.T) {
	pen := studio.Writing{Text: "M1 240", Right: -3.5, Up: -2.6, Deg: 6, SizeMM: 1.6, PenMM: 0.3, Colour: studio.RGB{R: 0.02, G: 0.02, B: 0.06}, Wobble: 0.2}
	refused(t, NoMark, func(s *studio.Scene) { s.Writings = []studio.Writing{pen} })
	mark, err := Burn(looked(t, func(s *studio.Scene) {
		s.Writings, s.Burns = []studio.Writing{pen}, []studio.Burn{disc(0.9, 1.6, 2.4)}
	}))
	require.NoError(t, err)
	assert.Less(t, math.Hypot(mark.X-0.9, mark.Y-1.6), tolBurnMM)
}

func TestTwoSeparateBurnsAreRefused(t *testing.T) {
	refused(t, TwoMarks, func(s *studio.Scene) {
		s.Burns = []studio.Burn{disc(-1.9, 0.6, 2), disc(1.8, -0.9, 2)}
	})
}

// The red pointer's dot beside the burn adds light; the burn stays where it is.
func TestPointerBesideTheBurnIsIgnored(t *testing.T) {
	b := disc(-1.2, 0.9, 2.4)
	mark, err := Burn(looked(t, func(s *studio.Scene) {
		s.Burns = []studio.Burn{b}
		s.Pointers = []studio.Pointer{{Right: 3, Up: -2.5, LongMM: 0.5, ShortMM: 0.4, Strength: 5, Glow: 0.03, SpeckleMM: 0.1}}
	}))
	require.NoError(t, err)
	assert.Less(t, math.Hypot(mark.X+1.2, mark.Y-0.9), tolBurnMM)
}
