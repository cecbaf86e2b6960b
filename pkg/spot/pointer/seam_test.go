package pointer

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/studio"
)

// seamIn looks for a seam about the middle of a square of which every cell is known.
func seamIn(light func(x, y float64) float64) *seam {
	g := painted(light)
	g.Light = g.Colour[0]
	return g.findSeam(g.Colour, 0, 0, 0)
}

// edge is a step of a height beyond a line whose normal points to angle.
func edge(angle, off, height float64) func(x, y float64) float64 {
	s, c := math.Sincos(angle)
	return func(x, y float64) float64 {
		if x*c+y*s < off {
			return 0
		}
		return height
	}
}

// Cells are 0.06 mm, of which one in nine is looked at: a line through about
// fifteen of them at either end is not known to better than a cell.
func TestSeamLiesWhereTheGroundsMeet(t *testing.T) {
	const tolMM, tolAngle = 0.1, 0.04
	for _, angle := range []float64{0, 0.4, 1.3, 2.2, -0.9} {
		for _, height := range []float64{0.3, -0.25, 0.06} {
			s := seamIn(edge(angle, 0.35, height))
			require.NotNil(t, s, "%v %v", angle, height)
			assert.Positive(t, s.from(0, 0), "the middle's side is the dot's own")
			assert.InDelta(t, 0.35, math.Abs(s.off), tolMM)
			assert.InDelta(t, -1, s.cos*math.Cos(angle)+s.sin*math.Sin(angle), tolAngle*tolAngle)
		}
	}
}

func TestWhatIsNoSeam(t *testing.T) {
	for name, light := range map[string]func(x, y float64) float64{
		"plain tape":             func(_, _ float64) float64 { return 0 },
		"light that falls off":   func(x, _ float64) float64 { return 0.05 * x },
		"a burn's edge":          func(x, y float64) float64 { return -0.3 * ramp(math.Hypot(x-2.6, y), 1.3, 1.1) },
		"char beyond a straight": edge(0.3, 1, -0.37),
	} {
		t.Run(name, func(t *testing.T) { assert.Nil(t, seamIn(light)) })
	}
}

// The tape ends within the dot, on paper that returns more of its light or
// less: its place stays its own.
func TestDotOnATapesEdge(t *testing.T) {
	for name, colour := range map[string]studio.RGB{
		"green": {R: 0.28, G: 0.48, B: 0.22}, "blue": {R: 0.16, G: 0.30, B: 0.55},
	} {
		for _, beyond := range []float64{-0.6, 0.9} {
			t.Run(name, func(t *testing.T) {
				dotAt(t, -0.4, 2.5+beyond, func(s *studio.Scene) {
					s.Tapes[0].Colour, s.Tapes[0].WidthMM, s.Tapes[0].Through, s.Tapes[0].EdgeDark = colour, 5, 0.05, 0.2
					s.Pointers = []studio.Pointer{beam(-0.4, 2.5+beyond, 4)}
				})
			})
		}
	}
}
