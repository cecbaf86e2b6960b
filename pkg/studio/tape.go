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

// wrinkleReach is where a fold's shading is cut, in widths: 3 exp(1/2 - 9) = 6e-4.
const wrinkleReach = 3

// shading is the light that a fold adds at a place: Depth · t exp(1/2 - t²) · (1 - e²) with
// t across in widths and e along in half lengths. That is the slope of a ridge of Gaussian
// section, light on one side and dark on the other, which fades towards the fold's ends.
func (w *Wrinkle) shading(right, up float64) float64 {
	c, s := w.axis.of(w.Deg)
	x, y := turned(right-w.Right, up-w.Up, c, s)
	if math.Abs(x) > w.LengthMM/2 || math.Abs(y) > wrinkleReach*w.WidthMM {
		return 0
	}
	t := y / w.WidthMM
	end := 2 * x / w.LengthMM
	return w.Depth * t * math.Exp(0.5-t*t) * (1 - end*end)
}

// Texture of tapes (chosen by eye). Crepe folds are crepeLong times as long across the tape
// as they are wide along it, and wander by bendDepth of a mm; clouds of fibres are cloudMM
// wide; torn ends have tears a mm wide, tornGrain of them.
const (
	crepeLong              = 14
	bendDepth              = 0.6
	bendAcross, bendAlong  = 3, 9 // mm
	cloudMM                = 1.7
	tornGrain, tornStretch = 2.2, 2
)

// inside is the distance to the tape's nearest edge in mm, positive on it, with
// the place in its own axes.
func (t *Tape) inside(right, up float64) (inside, along, across float64) {
	c, s := t.axis.of(t.Deg)
	along, across = turned(right-t.Right, up-t.Up, c, s)
	inside = t.WidthMM/2 - math.Abs(across)
	if t.LengthMM > 0 {
		end := t.LengthMM/2 - math.Abs(along)
		if t.TornMM > 0 && end < tornStretch*t.TornMM {
			end += t.TornMM * fractal(across*tornGrain, math.Copysign(5, along), 3, t.Seed+21)
		}
		inside = min(inside, end)
	}
	return inside, along, across
}

// over lays the tape on what is under it: the tape's colour times its shading, mixed with
// what shows through. The light's way through the tape and back is not modelled; Through is
// the share that an eye sees.
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
		bend := bendDepth * noise(across/bendAcross, along/bendAlong, t.Seed+1)
		shade += t.Crepe * noise((along+bend)/t.CrepeMM, across/(crepeLong*t.CrepeMM), t.Seed+2)
	}
	if t.Fibre > 0 {
		shade += t.Fibre * fractal(along/cloudMM, across/cloudMM, 3, t.Seed+3)
	}
	for i := range t.Wrinkles {
		shade += t.Wrinkles[i].shading(right, up)
	}
	return t.Colour.Times(shade).Toward(under, t.Through)
}

// edgeShadowMM is the width of the shadow beside a tape's edge: about its thickness.
const edgeShadowMM = 0.15

// Holds reports whether a disc lies wholly on the tape.
func (t *Tape) Holds(right, up, radius float64) bool {
	inside, _, _ := t.inside(right, up)
	return inside > radius
}
