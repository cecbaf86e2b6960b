package studio

import (
	"math"
)

// Tape is one strip of masking tape on the target's face.
type Tape struct {
	Right, Up float64 // middle, mm
	Deg       float64 // its length's direction, counter-clockwise from right
	WidthMM   float64
	LengthMM  float64 // 0: runs past the plate
	Colour    RGB
	Through   float64 // 0..1: how much of what lies under it shows
	Crepe     float64 // depth of the fine folds across its length, 0: smooth film
	CrepeMM   float64 // their spacing
	Fibre     float64 // depth of the paper's cloudiness
	Wrinkles  []Wrinkle
	TornMM    float64 // how ragged its two ends are
	EdgeDark  float64 // 0..1: shadow line along its long edges
	Seed      uint32

	axis turn
}

// Wrinkle is a fold in the tape: a ridge light on one side and dark on the other.
type Wrinkle struct {
	Right, Up float64 // a point on it, mm
	Deg       float64 // its direction
	WidthMM   float64
	LengthMM  float64
	Depth     float64

	axis turn
}

func (w *Wrinkle) shading(right, up float64) float64 {
	c, s := w.axis.of(w.Deg)
	x, y := turned(right-w.Right, up-w.Up, c, s)
	if math.Abs(x) > w.LengthMM/2 || math.Abs(y) > 3*w.WidthMM {
		return 0
	}
	t := y / w.WidthMM
	end := 2 * x / w.LengthMM
	return w.Depth * t * math.Exp(0.5-t*t) * (1 - end*end)
}

// inside is the distance to the tape's nearest edge in mm, positive on it, with
// the place in its own axes.
func (t *Tape) inside(right, up float64) (inside, along, across float64) {
	c, s := t.axis.of(t.Deg)
	along, across = turned(right-t.Right, up-t.Up, c, s)
	inside = t.WidthMM/2 - math.Abs(across)
	if t.LengthMM > 0 {
		end := t.LengthMM/2 - math.Abs(along)
		if t.TornMM > 0 && end < 2*t.TornMM {
			end += t.TornMM * fractal(across*2.2, math.Copysign(5, along), 3, t.Seed+21)
		}
		inside = min(inside, end)
	}
	return inside, along, across
}

// over lays the tape on what is under it.
func (t *Tape) over(under RGB, right, up float64) RGB {
	inside, along, across := t.inside(right, up)
	if inside <= -edgeShadowMM {
		return under
	}
	if inside <= 0 {
		return under.Times(1 - t.EdgeDark*(1+inside/edgeShadowMM))
	}
	shade := 1.0
	if t.Crepe > 0 {
		// Folds run across the length and wander a little.
		bend := 0.6 * noise(across/3, along/9, t.Seed+1)
		shade += t.Crepe * noise((along+bend)/t.CrepeMM, across/(14*t.CrepeMM), t.Seed+2)
	}
	if t.Fibre > 0 {
		shade += t.Fibre * fractal(along/1.7, across/1.7, 3, t.Seed+3)
	}
	for i := range t.Wrinkles {
		shade += t.Wrinkles[i].shading(right, up)
	}
	return t.Colour.Times(shade).Toward(under, t.Through)
}

// edgeShadowMM is the width of the shadow beside a tape's edge: about its thickness.
const edgeShadowMM = 0.15

// Holds tells whether a disc lies wholly on the tape.
func (t *Tape) Holds(right, up, radius float64) bool {
	inside, _, _ := t.inside(right, up)
	return inside > radius
}
