package studio

import (
	"math"
)

// Pointer is the red dot of an aiming laser on the target: a Gaussian core in a
// weak wide glow, with speckle. Its middle is the true place; speckle and
// saturation move what a camera sees of it by a little.
type Pointer struct {
	Right, Up float64 // mm
	LongMM    float64 // Gaussian sigma along Deg
	ShortMM   float64 // and across
	Deg       float64
	Strength  float64 // at the middle, 1: red channel as bright as white paper in full light
	Glow      float64 // share of Strength in the glow, whose sigma is three times as large
	Speckle   float64 // 0..1
	SpeckleMM float64
	Seed      uint32
}

// laserRed is what a camera's three filters make of 650 nm: the green and blue
// ones leak a few per cent, so a bright dot's middle goes white (common practice, no
// source).
var laserRed = RGB{1, 0.07, 0.055}

// pointerReach is where the glow is cut, in its sigmas: exp(-4.5²/2) = 4e-5.
const pointerReach = 4.5

// glowWider is the glow's sigma over the core's.
const glowWider = 3

// light is, with q = x²/Long² + y²/Short² in the dot's own axes,
//
//	Strength · (exp(-q/2) + Glow · exp(-q/(2 · glowWider²)))
//
// in red, with speckle: grains of bright and dark that laser light makes on a rough
// surface.
func (p *Pointer) light(right, up float64) RGB {
	c, s := cosSin(p.Deg)
	x, y := turned(right-p.Right, up-p.Up, c, s)
	x, y = x/p.LongMM, y/p.ShortMM
	q := x*x + y*y
	if q > glowWider*glowWider*pointerReach*pointerReach {
		return RGB{}
	}
	v := p.Strength * (math.Exp(-q/2) + p.Glow*math.Exp(-q/(2*glowWider*glowWider)))
	if p.Speckle > 0 {
		v *= 1 + p.Speckle*fractal(right/p.SpeckleMM, up/p.SpeckleMM, 2, p.Seed)
	}
	return laserRed.Times(v)
}
