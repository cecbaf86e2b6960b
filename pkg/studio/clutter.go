package studio

import (
	"math"
)

// ClutterKind names a thing lying about.
type ClutterKind int

// Things that lie about in a workshop; most of them are round, on purpose.
const (
	ClutterHexScrew ClutterKind = iota // cap screw with a hexagon socket
	ClutterCrossScrew
	ClutterWasher
	ClutterHole
	ClutterCoin
	ClutterKnob
	ClutterRings // a printed target of another make: rings of ratios that fit no spec here
	ClutterORing
	ClutterNut
	ClutterRule
	ClutterCable
	clutterKinds
)

// ClutterKinds is the number of kinds, for drawing one at random.
const ClutterKinds = int(clutterKinds)

// The numbers in this file say what each thing looks like: lengths as shares of its radius
// (hexagon sizes, grooves, sockets as such things are made), depths as shares of the light.
// They were chosen by eye, and nothing but looks depends on them.

// Clutter is one thing. It lies on the background, or on the plate's face when OnPlate.
type Clutter struct {
	Kind      ClutterKind
	Right, Up float64 // middle, mm
	RadiusMM  float64 // outer radius; a rule's half length; a cable's half length
	Deg       float64
	Colour    RGB
	Second    RGB
	OnPlate   bool
	BendMM    float64 // a cable's sag
	Seed      uint32

	axis turn
}

// Where a thing's contact shadow ends, in radii, and a little more than its square.
const (
	shadowReach  = 1.25
	shadowReach2 = 1.6
)

// near reports cheaply whether the thing can change anything at a place.
func (k *Clutter) near(right, up float64) bool {
	x, y := right-k.Right, up-k.Up
	return x*x+y*y <= shadowReach2*k.RadiusMM*k.RadiusMM
}

// over lays the thing on a surface.
func (k *Clutter) over(surface RGB, right, up float64) RGB {
	x, y := right-k.Right, up-k.Up
	r := math.Hypot(x, y) / k.RadiusMM
	if r > shadowReach {
		return surface
	}
	c, s := k.axis.of(k.Deg)
	u, v := turned(x/k.RadiusMM, y/k.RadiusMM, c, s)
	if k.Kind == ClutterCable {
		return k.cable(surface, u, v)
	}
	if k.Kind == ClutterRule {
		return k.rule(surface, u, v)
	}
	if r > 1 {
		// A soft contact shadow, lower right as from one lamp.
		return surface.Times(1 - 0.35*(shadowReach-r)/(shadowReach-1)*max(0, (x-y)/(k.RadiusMM*1.5)))
	}
	dome := 1 + 0.18*(y-x)/k.RadiusMM
	switch k.Kind {
	case ClutterHexScrew:
		return k.hexScrew(u, v, r, dome)
	case ClutterCrossScrew:
		return k.crossScrew(u, v, r, dome)
	case ClutterWasher:
		return k.ring(surface, r, 0.52, dome)
	case ClutterORing:
		return k.oring(surface, r, u, v)
	case ClutterHole:
		return k.hole(r, y)
	case ClutterCoin:
		return k.coin(u, v, r, dome)
	case ClutterKnob:
		return k.knob(u, v, r, dome)
	case ClutterNut:
		return k.nut(surface, u, v, r, dome)
	}
	return k.rings(r)
}

// hexagon is a place's distance from the middle of a hexagon, in half widths across its
// flats: 1 on its outline.
func hexagon(u, v float64) float64 {
	u, v = math.Abs(u), math.Abs(v)
	return max(u, u*0.5+v*0.8660254037844386)
}

// hexScrew is a cap screw: a hexagon socket, a knurled rim.
func (k *Clutter) hexScrew(u, v, r, dome float64) RGB {
	if hexagon(u, v) < 0.42 {
		return k.Second.Times(0.6 + 0.5*hexagon(u, v))
	}
	if r > 0.86 {
		return k.Colour.Times(0.75 * dome * (1 + 0.25*math.Sin(math.Atan2(v, u)*36)))
	}
	return k.Colour.Times(dome)
}

// crossScrew is a domed screw with a cross whose arms grow narrower outward.
func (k *Clutter) crossScrew(u, v, r, dome float64) RGB {
	a, b := math.Abs(u), math.Abs(v)
	arm := 0.11 + 0.05*(1-r)
	if min(a, b) < arm && max(a, b) < 0.55 {
		return k.Second
	}
	return k.Colour.Times(dome * (1.1 - 0.4*r*r))
}

// ring is a flat ring with two bevels.
func (k *Clutter) ring(surface RGB, r, inner, dome float64) RGB {
	if r < inner {
		return surface.Times(0.75)
	}
	bevel := 1.0
	if r > 0.95 || r < inner+0.05 {
		bevel = 0.8
	}
	return k.Colour.Times(dome * bevel)
}

// oring is a round ring of rubber: its section, t from -1 to 1, is a half circle with a gleam.
func (k *Clutter) oring(surface RGB, r, u, v float64) RGB {
	t := (r - 0.88) / 0.12
	if t < -1 {
		return surface
	}
	shine := math.Exp(-12 * (t - 0.3) * (t - 0.3))
	return k.Colour.Times(0.6 + 0.4*math.Sqrt(1-t*t)).Plus(Grey(0.12 * shine * (0.5 + 0.5*v - 0.3*u)))
}

// hole is a hole with a lighter rim, dark below.
func (k *Clutter) hole(r, y float64) RGB {
	if r > 0.84 {
		return k.Colour.Times(1 - 0.35*y/k.RadiusMM)
	}
	return k.Second.Times(0.4 + 0.4*r*(1+y/k.RadiusMM))
}

// coin is a coin: rim, groove, relief.
func (k *Clutter) coin(u, v, r, dome float64) RGB {
	relief := fractal(u*5, v*5, 3, k.Seed)
	if r > 0.9 {
		return k.Colour.Times(1.1 * dome)
	}
	if r > 0.86 {
		return k.Colour.Times(0.7 * dome)
	}
	return k.Colour.Times(dome * (1 + 0.35*relief))
}

// knob is a knob with a fluted rim and a mark.
func (k *Clutter) knob(u, v, r, dome float64) RGB {
	switch {
	case r > 0.8:
		return k.Colour.Times(dome * (0.8 + 0.3*math.Sin(math.Atan2(v, u)*24)))
	case r > 0.74 || (r > 0.42 && r < 0.46):
		return k.Second
	case math.Abs(u) < 0.05 && v > 0.46:
		return Grey(0.7)
	}
	return k.Colour.Times(1.25 * dome * (1 - 0.2*r))
}

// nut is a hexagon nut with a thread in it.
func (k *Clutter) nut(surface RGB, u, v, r, dome float64) RGB {
	if r < 0.45 {
		return k.Second.Times(0.8 + 0.5*math.Sin(40*r))
	}
	if hexagon(u, v) > 0.86 {
		return surface.Times(0.85)
	}
	return k.Colour.Times(dome)
}

// decoyRadii fit no spec's ratios within a line's width.
var decoyRadii = [...]float64{0.22, 0.36, 0.62, 0.93}

// rings is a printed target of another make.
func (k *Clutter) rings(r float64) RGB {
	for _, at := range decoyRadii {
		if math.Abs(r-at) < 0.018 {
			return k.Second
		}
	}
	return k.Colour
}

// rule is a rule with marks at each mm, longer ones at each fifth.
func (k *Clutter) rule(surface RGB, u, v float64) RGB {
	const half = 0.13
	if math.Abs(u) > 1 || math.Abs(v) > half {
		return surface
	}
	mm := u * k.RadiusMM
	near := math.Abs(mm - math.Round(mm))
	length := 0.06
	if int(math.Round(mm))%5 == 0 {
		length = 0.11
	}
	if near < 0.09 && half-v < length {
		return k.Second
	}
	return k.Colour
}

// cable is a cable that sags as a parabola; its section is a half circle with a gleam.
func (k *Clutter) cable(surface RGB, u, v float64) RGB {
	const half = 0.045
	if math.Abs(u) > 1 {
		return surface
	}
	t := (v - k.BendMM/k.RadiusMM*(1-u*u)) / half
	if t < -1 || t > 1 {
		if t < -1 && t > -1.8 {
			return surface.Times(0.75)
		}
		return surface
	}
	shine := math.Exp(-14 * (t - 0.35) * (t - 0.35))
	return k.Colour.Times(0.55 + 0.45*math.Sqrt(1-t*t)).Plus(Grey(0.15 * shine))
}
