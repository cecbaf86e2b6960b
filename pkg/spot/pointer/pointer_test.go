package pointer

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

// beam is a dot as pkg/studio draws it: a Gaussian core of about 0.45 mm in
// a faint glow, grainy.
func beam(right, up, strength float64) studio.Pointer {
	return studio.Pointer{Right: right, Up: up, LongMM: 0.5, ShortMM: 0.42, Deg: 30, Strength: strength, Glow: 0.03, Speckle: 0.3, SpeckleMM: 0.1, Seed: 8}
}

// find measures the dot as every measurement does.
func find(f *ring.Fit) (*spot.Mark, error) { return Measure(f, DefaultOptions()) }

// tolDotMM is a pixel of these scenes.
const tolDotMM = 0.05

// dotAt wants the dot near a place, and the true place within 95 % of what is
// stated: 2.45 standard deviations per axis of a round normal distribution.
func dotAt(t *testing.T, right, up float64, change func(s *studio.Scene)) *spot.Mark {
	t.Helper()
	mark, err := find(scene.Fit(t, change))
	require.NoError(t, err)
	off := math.Hypot(mark.X-right, mark.Y-up)
	assert.Less(t, off, tolDotMM)
	assert.Less(t, off, 2.45*math.Hypot(mark.NoiseU, mark.EdgeU))
	return mark
}

func TestDotIsWhereItIs(t *testing.T) {
	for name, c := range map[string][3]float64{
		"between lines":          {3, 0.1, 3},
		"burnt out white":        {3, 0.1, 14},
		"faint":                  {-2.1, -2.1, 1.5},
		"on a ring line":         {3.2, -2.4, 4},
		"over the cross":         {0.3, 0.2, 4},
		"beside the index mark":  {0.2, 7.6, 4},
		"on the outer ring line": {-7.9, 0.5, 6},
	} {
		t.Run(name, func(t *testing.T) {
			mark := dotAt(t, c[0], c[1], func(s *studio.Scene) { s.Pointers = []studio.Pointer{beam(c[0], c[1], c[2])} })
			assert.NotEmpty(t, mark.Outline)
		})
	}
}

func TestDotOnColouredTape(t *testing.T) {
	for name, colour := range map[string]studio.RGB{
		"green": {R: 0.25, G: 0.5, B: 0.28}, "blue": {R: 0.15, G: 0.3, B: 0.55}, "brown": {R: 0.35, G: 0.22, B: 0.12}, "white": {R: 0.8, G: 0.8, B: 0.78},
	} {
		t.Run(name, func(t *testing.T) {
			dotAt(t, -1.3, -2.4, func(s *studio.Scene) {
				s.Tapes[0].Colour = colour
				s.Pointers = []studio.Pointer{beam(-1.3, -2.4, 5)}
			})
		})
	}
}

// The burn's side of the dot is lost; the dot stays where it is, also when the
// middle itself lies at the burn's edge.
func TestDotPartlyOnABurn(t *testing.T) {
	for _, right := range []float64{1.1, 1.4} {
		dotAt(t, right, 2, func(s *studio.Scene) {
			s.Burns = []studio.Burn{scene.Disc(0, 2, 2.2)}
			s.Pointers = []studio.Pointer{beam(right, 2, 4)}
		})
	}
}

// noDot wants this refusal.
func noDot(t *testing.T, code refusal.Code, change func(s *studio.Scene)) {
	t.Helper()
	mark, err := find(scene.Fit(t, change))
	var r *refusal.Refusal
	require.True(t, errors.As(err, &r), "%v %+v", err, mark)
	assert.Equal(t, code, r.Code)
}

func TestWhatIsNoDotIsRefused(t *testing.T) {
	for name, change := range map[string]func(s *studio.Scene){
		"nothing": func(*studio.Scene) {},
		"a burn":  func(s *studio.Scene) { s.Burns = []studio.Burn{scene.Disc(0.9, 1, 2.6)} },
		"white shine": func(s *studio.Scene) {
			s.Lights.Glares = []studio.Glare{{Right: 1, Up: -2, LongMM: 0.8, ShortMM: 0.7, Strength: 0.3, Colour: studio.Grey(1)}}
		},
		"red writing": func(s *studio.Scene) {
			s.Writings = []studio.Writing{{Text: "M1 240", Right: -3.5, Up: -2.6, Deg: 6, SizeMM: 1.6, PenMM: 0.4, Colour: studio.RGB{R: 0.55, G: 0.03, B: 0.04}, Wobble: 0.2}}
		},
		"a red room": func(s *studio.Scene) { s.Lights.Ambient = studio.RGB{R: 1, G: 0.6, B: 0.5} },
		"red paper below the tape's end": func(s *studio.Scene) {
			s.Look.Paper, s.Tapes[0].WidthMM = studio.RGB{R: 0.7, G: 0.2, B: 0.2}, 12
		},
	} {
		t.Run(name, func(t *testing.T) { noDot(t, refusal.NoMark, change) })
	}
}

func TestTwoDotsAreRefused(t *testing.T) {
	noDot(t, refusal.TwoMarks, func(s *studio.Scene) {
		s.Pointers = []studio.Pointer{beam(-2.4, 0.6, 4), beam(2.8, -1.9, 3)}
	})
}

// Light that is much weaker beside the dot, its reflection say, is not a second.
func TestFaintSecondDotIsLeftOut(t *testing.T) {
	dotAt(t, -2.4, 0.6, func(s *studio.Scene) {
		s.Pointers = []studio.Pointer{beam(-2.4, 0.6, 8), beam(2.8, -1.9, 0.15)}
	})
}
