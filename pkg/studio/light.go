package studio

import (
	"math"
)

// Lamp is a small light above the target; its light falls off with the square
// of the distance and the cosine at the plane.
type Lamp struct {
	At       [3]float64 // right, up, height in mm
	Colour   RGB
	Strength float64 // irradiance at the target's origin, in units in which a white surface then looks 1
}

// irradiance at a place of a plane at a height. A small lamp's light falls as
// cos/d², where d is the distance and cos = z/d the slant, z being the lamp's height above
// the plane (Lambert's cosine law and the inverse square). Against the target's origin,
// whose distance is o and whose slant a_z/o, that is
//
//	E = Strength · (z/d)/d² · o²/(a_z/o) = Strength · (z/a_z) · (o²/d²) · √(o²/d²).
func (l *Lamp) irradiance(right, up, height float64) float64 {
	x, y, z := l.At[0]-right, l.At[1]-up, l.At[2]-height
	d2 := x*x + y*y + z*z
	a := l.At
	o2 := a[0]*a[0] + a[1]*a[1] + a[2]*a[2]
	return l.Strength * z / a[2] * (o2 / d2) * math.Sqrt(o2/d2)
}

// ShadeShape is the outline of a shadow.
type ShadeShape int

// Outlines of shadows.
const (
	ShadeEdge  ShadeShape = iota // everything on one side of a line
	ShadeStrip                   // a strip: an arm, a cable, a rail
	ShadeBlob                    // a disc: a hand, a phone's corner
	shadeShapes
)

// ShadeShapes is the number of shapes, for drawing one at random.
const ShadeShapes = int(shadeShapes)

// Shade is a shadow lying on the target plane.
type Shade struct {
	Shape     ShadeShape
	Right, Up float64 // a point of the edge, the middle of the strip or of the blob, mm
	Deg       float64 // direction across the edge or strip, counter-clockwise from right
	SizeMM    float64 // half width of the strip, radius of the blob
	SoftMM    float64 // width of the half shadow
	Depth     float64 // 0..1: share of the light that is missing in the full shadow
}

// light is the share of light left at a place, 0..1: 1 - Depth times a smooth step over
// the half shadow, of the distance inside the outline. For a line that distance is
// (cos, sin) Deg · (place - point), for a strip SizeMM - |that|, for a disc
// SizeMM - |place - middle|.
func (s *Shade) light(right, up float64) float64 {
	x, y := right-s.Right, up-s.Up
	var inside float64
	switch s.Shape {
	case ShadeBlob:
		inside = s.SizeMM - math.Hypot(x, y)
	default:
		c, sn := cosSin(s.Deg)
		inside = c*x + sn*y
		if s.Shape == ShadeStrip {
			inside = s.SizeMM - math.Abs(inside)
		}
	}
	return 1 - s.Depth*step(-s.SoftMM/2, s.SoftMM/2, inside)
}

// Glare is a lamp's reflection on a shiny surface: light added on top, which
// falls off like a Gaussian.
type Glare struct {
	Right, Up  float64 // mm
	LongMM     float64 // Gaussian sigma along Deg
	ShortMM    float64 // and across
	Deg        float64
	Strength   float64 // at its middle, 1: as bright as white paper in full light
	Colour     RGB
	Broken     float64 // 0..1: how far the surface's texture breaks it up
	TextureMM  float64 // size of those pieces
	TextureKey uint32
}

// glareReach2 is the square of the radius, in sigmas, beyond which a reflection is left
// out: exp(-20/2) = 5e-5 of its middle.
const glareReach2 = 20

// light is Strength · exp(-(x²/Long² + y²/Short²)/2) in the glare's own axes, broken up by
// texture.
func (g *Glare) light(right, up float64) RGB {
	c, s := cosSin(g.Deg)
	x, y := turned(right-g.Right, up-g.Up, c, s)
	x, y = x/g.LongMM, y/g.ShortMM
	q := x*x + y*y
	if q > glareReach2 {
		return RGB{}
	}
	v := g.Strength * math.Exp(-q/2)
	if g.Broken > 0 {
		v *= 1 + g.Broken*fractal(right/g.TextureMM, up/g.TextureMM, 2, g.TextureKey)
	}
	return g.Colour.Times(v)
}

// Lights are all the light in a scene.
type Lights struct {
	Ambient RGB
	Lamps   []Lamp
	Shades  []Shade
	Glares  []Glare
}

// on is the irradiance falling on a place of a plane at a height,
//
//	E = (Ambient + Σ_lamps Colour · irradiance) · Π_shades light,
//
// channel by channel. Shadows take from all light alike: which lamp casts one is not
// modelled.
func (l *Lights) on(right, up, height float64) RGB {
	sum := l.Ambient
	for i := range l.Lamps {
		lamp := &l.Lamps[i]
		sum = sum.Plus(lamp.Colour.Times(lamp.irradiance(right, up, height)))
	}
	for i := range l.Shades {
		sum = sum.Times(l.Shades[i].light(right, up))
	}
	return sum
}

// shine is the light of all reflections seen at a place of the target. It is added to what
// the surface scatters, whatever lies there: a reflection is on top of ink as of paper.
func (l *Lights) shine(right, up float64) (sum RGB) {
	for i := range l.Glares {
		sum = sum.Plus(l.Glares[i].light(right, up))
	}
	return sum
}

// Balance is the white balance of a phone that finds share of the lights' colour, 0..1:
// for each channel (Y/v)^share with v the sum of all lights in that channel and Y its
// luminance. Share 1 makes the light grey, 0 leaves it.
func (l *Lights) Balance(share float64) RGB {
	sum := l.Ambient
	for _, lamp := range l.Lamps {
		sum = sum.Plus(lamp.Colour.Times(lamp.Strength))
	}
	return sum.each(func(v float64) float64 { return math.Pow(sum.Luminance()/v, share) })
}
