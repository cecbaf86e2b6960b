package ellipse

import (
	"testing"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/target"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// circles is a set of upright circles about the origin.
func circles(radii ...float64) Concentric {
	var out Concentric
	for _, r := range radii {
		out = append(out, Line{conic.Ellipse{A: r, B: r}, 3})
	}
	return out
}

// plain-4's radii are 8, 6, 4 and 2 mm.
func TestASetFitsTheSpecWhoseRatiosItHas(t *testing.T) {
	plain := target.Default().RingsMM
	for _, c := range []struct {
		lines   Concentric
		fitting int
		scale   float64 // mm in a px; 0: of no interest
	}{
		{circles(80, 60, 40, 20), 4, 0.1},
		{circles(80, 60), 2, 0.1},
		{circles(80, 40), 2, 0.1}, // 4 and 2 mm would do as well: no more is taken to be hidden than need be
		{circles(90, 55, 35), 1, 0},
		{circles(50), 1, 0.16},
	} {
		fitting, scale := c.lines.Match(plain, *usual())
		assert.Equal(t, c.fitting, fitting, "%v", c.lines)
		if c.scale > 0 {
			assert.InDelta(t, c.scale, scale, 1e-12, "%v", c.lines)
		}
	}
}

// Each ring is two ellipses, its line's flanks; the gap between rings is no line.
func TestSetsAreMadeOfFlanks(t *testing.T) {
	var list []Candidate
	for _, r := range []float64{80, 60, 40, 20} {
		for _, half := range []float64{1.5, -1.5} {
			list = append(list, Candidate{conic.Ellipse{X: 300, Y: 200, A: r + half, B: 0.9 * (r + half)}, 0.9})
		}
	}
	list = append(list, Candidate{conic.Ellipse{X: 500, Y: 80, A: 50, B: 48}, 1}) // a coin
	found := ConcentricLines(list, usual().WholeArc, *usual())
	require.NotEmpty(t, found)
	require.Len(t, found[0], 4)
	for i, r := range []float64{80, 60, 40, 20} {
		assert.InDelta(t, r, found[0][i].A, 1e-9)
		assert.InDelta(t, 3, found[0][i].Width, 1e-9)
	}
	assert.Empty(t, ConcentricLines(list[8:], usual().WholeArc, *usual()), "one coin is no set of rings")
	assert.Empty(t, ConcentricLines(list, 0.95, *usual()), "not seen that far round")
}
