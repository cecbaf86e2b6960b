package spot

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"burngauge.dev/burngauge/pkg/studio"
)

// slab is a mark as dark as can be, from x -2 to 2 and y -1 to 1 mm, with lines
// of 0.4 mm beside it, under which it may go on.
func slab(lines ...float64) *darkness {
	const n, step = 160, 0.05
	d := &darkness{flat: &flat{n: n, step: step, x0: -3.975, y0: -3.975}, value: make([]float64, n*n), support: newMask(n)}
	for k := range d.value {
		x, y := d.place(k%n, k/n)
		d.support.in[k] = true
		if math.Abs(y) > 1 {
			continue
		}
		if math.Abs(x) < 2 {
			d.value[k] = 1
		}
		for _, line := range lines {
			if math.Abs(x-line) < 0.2 {
				d.value[k] = 0.5
				d.hidden = append(d.hidden, hiddenCell{k, 0, 1})
			}
		}
	}
	return d
}

// The mark may end at the near or the far side of a line of 0.4 mm, which moves
// its middle by 0 to 0.2 mm: uniform, 0.2/√12 in one of two directions. What
// two lines hide on opposite sides adds in squares, it does not cancel.
func TestWhatALineHidesIsUncertain(t *testing.T) {
	const tol = 1e-9
	one := 0.2 / math.Sqrt(12) / math.Sqrt2
	d := slab(2.2)
	assert.InDelta(t, one, d.hiddenU(d.char()), tol)
	d = slab(2.2, -2.2)
	assert.InDelta(t, one*math.Sqrt2, d.hiddenU(d.char()), tol)
}

// A line right across the mark hides nothing: both its sides are dark.
func TestALineAcrossTheMarkHidesNothing(t *testing.T) {
	d := slab()
	for k := range d.value {
		if x, y := d.place(k%d.n, k/d.n); math.Abs(x-1) < 0.2 && math.Abs(y) <= 1 {
			d.hidden = append(d.hidden, hiddenCell{k, 1, 1})
		}
	}
	assert.InDelta(t, 0, d.hiddenU(d.char()), 1e-12)
}

// Light lines under dark tape show through a pale scorch, and must not part it.
func TestAPaleScorchOverLightLines(t *testing.T) {
	scorch := disc(1.7, -1.4, 4)
	scorch.Strength = 0.25
	fit := looked(t, func(s *studio.Scene) {
		s.Look.Paper, s.Look.Ink = studio.Grey(0.08), studio.Grey(0.7)
		s.Burns = []studio.Burn{scorch}
	})
	mark, err := Burn(fit)
	if assert.NoError(t, err) {
		truth := scorch.Moments()
		assert.Less(t, math.Hypot(mark.X-truth.Right, mark.Y-truth.Up), tolBurnMM)
		assert.Equal(t, "round", mark.Shape)
	}
}

// On a dark plate with light lines, a tape's edge and a ring cut out a piece of
// the plate that is darker than the tape on one side only. There is no burn.
func TestAPieceOfADarkPlateIsNoBurn(t *testing.T) {
	for _, width := range []float64{3, 5, 9} { // mm, of the tape
		fit := looked(t, func(s *studio.Scene) {
			s.Look.Paper, s.Look.Ink = studio.Grey(0.05), studio.Grey(0.6)
			s.Tapes[0].WidthMM, s.Tapes[0].Through = width, 0.6
		})
		_, err := Burn(fit)
		var refusal *Refusal
		if assert.ErrorAs(t, err, &refusal, "tape of %v mm", width) {
			assert.Equal(t, NoMark, refusal.Code)
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
				b := disc(1.2, -0.9, diameter)
				mark, err := Burn(looked(t, func(s *studio.Scene) {
					s.Look.Paper, s.Look.Ink = studio.Grey(look[0]), studio.Grey(look[1])
					s.Tapes[0].WidthMM = 8
					s.Tapes[0].Up = b.Lobes[0].Up + diameter/2 + gap - 4
					s.Burns = []studio.Burn{b}
				}))
				var refusal *Refusal
				switch {
				case gap > 0:
					if assert.NoError(t, err, name) {
						assert.Less(t, math.Hypot(mark.X-1.2, mark.Y+0.9), tolBurnMM, name)
					}
				case errors.As(err, &refusal):
					assert.Equal(t, NoMark, refusal.Code, name)
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
