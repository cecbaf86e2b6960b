package spot

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/studio"
)

// A hard shadow that takes half of the light and ends on the target leaves no
// tape of the mark's own light on which to learn how dark the printed lines are.
// They must not be taken for char, or the inner ring closes round the tape
// inside it, which then counts as a hole in the mark: the burn was told to lie
// 0.7 to 1.8 mm off in these scenes, with 0.06 mm of edge. Truth: the burn's own
// moments. 2.45 is the radius that holds 95 % of a circular normal distribution,
// √(-2 ln 0.05), for a standard uncertainty of 1 per axis.
func TestAShadowsEdgeDoesNotCloseTheInnerRing(t *testing.T) {
	burn := disc(-1.9, -0.1, 4.2)
	burn.Strength = 0.9
	truth := burn.Moments()
	for _, edge := range []struct{ deg, away float64 }{{0, -1.5}, {180, 0}, {240, 1.5}, {300, -1.5}} {
		sin, cos := math.Sincos(edge.deg * math.Pi / 180)
		fit := looked(t, func(s *studio.Scene) {
			s.Tapes[0].Through, s.Tapes[0].Colour = 0.9, studio.Grey(0.5)
			s.Burns = []studio.Burn{burn}
			s.Lights.Shades = []studio.Shade{{Shape: studio.ShadeEdge, Right: edge.away * cos, Up: edge.away * sin, Deg: edge.deg, SoftMM: 0.2, Depth: 0.5}}
		})
		mark, err := Burn(fit)
		require.NoError(t, err)
		assert.Less(t, math.Hypot(mark.X-truth.Right, mark.Y-truth.Up), 2.45*mark.EdgeU, "shadow towards %v degrees", edge.deg)
	}
}

// Of a burn that lies half in a deep shadow only the half in one light stands out:
// it was told 0.8 to 1.3 mm off with 0.3 stated.
func TestABurnHalfInADeepShadowIsRefused(t *testing.T) {
	burn := disc(-1.9, -0.1, 4.2)
	for _, deg := range []float64{60, 150, 240} {
		fit := looked(t, func(s *studio.Scene) {
			s.Burns = []studio.Burn{burn}
			s.Lights.Shades = []studio.Shade{{Shape: studio.ShadeEdge, Right: -1.9, Up: -0.1, Deg: deg, SoftMM: 0.2, Depth: 0.75}}
		})
		_, err := Burn(fit)
		var refusal *Refusal
		assert.ErrorAs(t, err, &refusal, "shadow towards %v degrees", deg)
	}
}
