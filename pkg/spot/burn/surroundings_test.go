package burn

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/refusal"
	"burngauge.dev/burngauge/pkg/spot"
	"burngauge.dev/burngauge/pkg/spot/scene"
	"burngauge.dev/burngauge/pkg/studio"
)

// Light lines under dark tape show through a pale scorch, and must not part it.
func TestAPaleScorchOverLightLines(t *testing.T) {
	scorch := scene.Disc(1.7, -1.4, 4)
	scorch.Strength = 0.25
	fit := scene.Fit(t, func(s *studio.Scene) {
		s.Look.Paper, s.Look.Ink = studio.Grey(0.08), studio.Grey(0.7)
		s.Burns = []studio.Burn{scorch}
	})
	mark, err := find(fit)
	if assert.NoError(t, err) {
		truth := scorch.Moments()
		assert.Less(t, math.Hypot(mark.X-truth.Right, mark.Y-truth.Up), tolBurnMM)
		assert.Equal(t, spot.Round, mark.Shape)
	}
}

// On a dark plate with light lines, a tape's edge and a ring cut out a piece of
// the plate that is darker than the tape on one side only. There is no burn.
func TestAPieceOfADarkPlateIsNoBurn(t *testing.T) {
	for _, width := range []float64{3, 5, 9} { // mm, of the tape
		fit := scene.Fit(t, func(s *studio.Scene) {
			s.Look.Paper, s.Look.Ink = studio.Grey(0.05), studio.Grey(0.6)
			s.Tapes[0].WidthMM, s.Tapes[0].Through = width, 0.6
		})
		_, err := find(fit)
		var refused *refusal.Refusal
		if assert.ErrorAs(t, err, &refused, "tape of %v mm", width) {
			assert.Equal(t, refusal.NoMark, refused.Code)
		}
	}
}

// A burn at the end of its tape, on a plate as black as char: well inside, it is
// measured; the more it reaches over the edge, the less of it is seen, and light
// lines cut the plate beyond it into pieces that look like a mark's. Whatever is
// not refused must be right.
func TestABurnAtTheTapesEdgeOnABlackPlate(t *testing.T) {
	for _, look := range [][2]float64{{0.03, 0.7}, {0.05, 0.3}} { // plate, lines
		for _, diameter := range []float64{1.8, 2.5, 4.5} { // mm
			for _, gap := range []float64{0.6, -0.2, -0.8, -1.8} { // mm from the burn to the tape's edge
				name := fmt.Sprintf("plate %v, lines %v, burn of %v mm, %v mm to the edge", look[0], look[1], diameter, gap)
				b := scene.Disc(1.2, -0.9, diameter)
				mark, err := find(scene.Fit(t, func(s *studio.Scene) {
					s.Look.Paper, s.Look.Ink = studio.Grey(look[0]), studio.Grey(look[1])
					s.Tapes[0].WidthMM = 8
					s.Tapes[0].Up = b.Lobes[0].Up + diameter/2 + gap - 4
					s.Burns = []studio.Burn{b}
				}))
				var refused *refusal.Refusal
				switch {
				case gap > 0:
					if assert.NoError(t, err, name) {
						assert.Less(t, math.Hypot(mark.X-1.2, mark.Y+0.9), tolBurnMM, name)
					}
				case errors.As(err, &refused):
					assert.Equal(t, refusal.NoMark, refused.Code, name)
				default:
					stated := coverage95 * math.Hypot(mark.EdgeU, mark.NoiseU)
					assert.Less(t, math.Hypot(mark.X-1.2, mark.Y+0.9), stated, name)
				}
			}
		}
	}
}

// coverage95 takes a standard uncertainty per axis to a radius of 95 % in the
// plane: sqrt(-2 ln 0.05), the Rayleigh distribution's quantile.
const coverage95 = 2.4477

// A hard shadow that takes half of the light and ends on the target leaves no
// tape of the mark's own light on which to learn how dark the printed lines are.
// They must not be taken for char, or the inner ring closes round the tape
// inside it, which then counts as a hole in the mark: the burn was measured
// 0.7 to 1.8 mm off in these scenes, with 0.06 mm of edge. Truth: the burn's own
// moments. 2.45 is the radius that holds 95 % of a circular normal distribution,
// √(-2 ln 0.05), for a standard uncertainty of 1 per axis.
func TestAShadowsEdgeDoesNotCloseTheInnerRing(t *testing.T) {
	burn := scene.Disc(-1.9, -0.1, 4.2)
	burn.Strength = 0.9
	truth := burn.Moments()
	for _, edge := range []struct{ deg, away float64 }{{0, -1.5}, {180, 0}, {240, 1.5}, {300, -1.5}} {
		sin, cos := math.Sincos(edge.deg * math.Pi / 180)
		fit := scene.Fit(t, func(s *studio.Scene) {
			s.Tapes[0].Through, s.Tapes[0].Colour = 0.9, studio.Grey(0.5)
			s.Burns = []studio.Burn{burn}
			s.Lights.Shades = []studio.Shade{{Shape: studio.ShadeEdge, Right: edge.away * cos, Up: edge.away * sin, Deg: edge.deg, SoftMM: 0.2, Depth: 0.5}}
		})
		mark, err := find(fit)
		require.NoError(t, err)
		assert.Less(t, math.Hypot(mark.X-truth.Right, mark.Y-truth.Up), 2.45*mark.EdgeU, "shadow towards %v degrees", edge.deg)
	}
}

// Of a burn that lies half in a deep shadow only the half in one light stands out:
// it was measured 0.8 to 1.3 mm off with 0.3 stated.
func TestABurnHalfInADeepShadowIsRefused(t *testing.T) {
	burn := scene.Disc(-1.9, -0.1, 4.2)
	for _, deg := range []float64{60, 150, 240} {
		fit := scene.Fit(t, func(s *studio.Scene) {
			s.Burns = []studio.Burn{burn}
			s.Lights.Shades = []studio.Shade{{Shape: studio.ShadeEdge, Right: -1.9, Up: -0.1, Deg: deg, SoftMM: 0.2, Depth: 0.75}}
		})
		_, err := find(fit)
		var refused *refusal.Refusal
		assert.ErrorAs(t, err, &refused, "shadow towards %v degrees", deg)
	}
}
