package studio

import (
	"math"

	"burngauge.dev/burngauge/pkg/target"
)

// Cover is something held above the target that hides what is behind it: a
// finger, with round end at (Right, Up), coming in from the direction Deg.
type Cover struct {
	Right, Up float64 // the fingertip's middle, mm
	Deg       float64 // direction from the tip to the hand
	WidthMM   float64
	HeightMM  float64 // above the ring plane
	Colour    RGB
}

// How a finger looks (chosen by eye): light at its rim as a share of its middle's, and
// folds across it, their depth and how many there are in a mm.
const (
	rimLight              = 0.45
	foldDepth             = 0.05
	foldAlong, foldAcross = 1.2, 0.4
	foldSeed              = 77
)

// hides gives the cover's own colour at a place of its plane, and whether it is there at all.
// A finger is a cylinder with a round end: t across it, -1 to 1, its surface is inclined by
// asin t, and in even light its brightness goes as the cosine √(1 - t²) of that.
func (f *Cover) hides(right, up float64) (RGB, bool) {
	// In the finger's axes, x towards the hand: a strip with a half disc at its end.
	c, s := cosSin(f.Deg)
	x, y := turned(right-f.Right, up-f.Up, c, s)
	across := math.Abs(y)
	if x < 0 {
		across = math.Hypot(x, y)
	}
	t := 2 * across / f.WidthMM
	if t > 1 {
		return RGB{}, false
	}
	folds := 1 + foldDepth*noise(x*foldAlong, y*foldAcross, foldSeed)
	return f.Colour.Times((rimLight + (1-rimLight)*math.Sqrt(1-t*t)) * folds), true
}

// Scene is everything in front of the camera, in the target's frame: right, up
// on the ring plane and height above it towards the viewer, all in mm.
type Scene struct {
	Target     target.Spec
	Blank      bool // the plate carries no print at all
	Absent     bool // there is no plate either
	Look       Look
	Plate      Plate
	Tapes      []Tape
	Writings   []Writing // on top of the tape
	Burns      []Burn    // on the tape's surface, Target.TapeMM above the rings
	Pointers   []Pointer // likewise
	Covers     []Cover
	Clutter    []Clutter
	Background Background
	Lights     Lights
	Seed       uint32
	// CharSwallows takes the pointer's light away where the tape is burnt to char:
	// there is no tape left to scatter it. Off, the dot shines on the char as on tape.
	CharSwallows bool

	within  bounds    // of the plate, once prepared
	burnFar []float64 // squared radius of each burn, once prepared
}

// radiance is the light that comes back along a ray, 1: white paper in full light. All
// surfaces are matt (Lambert): what they send back is reflectance times irradiance,
// whichever way one looks. What is nearest to the camera counts: covers, the plate's face,
// what lies behind.
func (s *Scene) radiance(r ray) RGB {
	for i := range s.Covers {
		f := &s.Covers[i]
		right, up := r.meet(f.HeightMM)
		if c, ok := f.hides(right, up); ok {
			return c.Under(s.Lights.on(right, up, f.HeightMM))
		}
	}
	right, up := r.meet(0)
	if !s.Absent {
		if inside := s.insidePlate(right, up); inside > 0 {
			return s.face(r, right, up, inside)
		}
	}
	return s.surroundings(r)
}

// face is the light from the plate's face: reflectance times irradiance, plus what shines
// by itself,
//
//	L = ρ (E + (1 - scatter) P) + scatter · scatterOut · P + glare,
//
// with ρ of print, things, tape, writing and burns, one over the other, E the lamps' light
// and P the pointer's, of which tape spreads a share within itself. The tape's surface lies
// Target.TapeMM higher than the print; the ray meets it at another place, which is the
// parallax of raised tape: h tan t at an angle t from the side.
func (s *Scene) face(r ray, right, up, inside float64) RGB {
	c := s.Look.Paper
	if !s.Blank {
		c = s.Look.surface(&s.Target, right, up, s.Seed)
	}
	c = c.Times(s.Plate.edge(inside))
	for i := range s.Clutter {
		if k := &s.Clutter[i]; k.OnPlate && k.near(right, up) {
			c = k.over(c, right, up)
		}
	}
	topRight, topUp := right, up
	if s.Target.TapeMM != 0 {
		topRight, topUp = r.meet(s.Target.TapeMM)
	}
	c = s.taped(c, topRight, topUp)
	light := s.Lights.on(topRight, topUp, 0)
	glow := s.Lights.shine(topRight, topUp)
	for i := range s.Pointers {
		p := s.Pointers[i].light(topRight, topUp)
		light = light.Plus(p.Times(1 - scatter))
		share := scatter * scatterOut
		if s.CharSwallows && p != (RGB{}) {
			share *= 1 - s.burnt(topRight, topUp)
		}
		glow = glow.Plus(p.Times(share))
	}
	return c.Under(light).Plus(glow)
}

// burnt is the share of the tape that is burnt away at a place, 0..1: that of the darkest
// burn there.
func (s *Scene) burnt(right, up float64) float64 {
	most := 0.0
	for i := range s.Burns {
		most = max(most, s.Burns[i].Dark(right, up)*s.Burns[i].Strength)
	}
	return min(most, 1)
}

// What tape does with the pointer's light (chosen by eye): the share that it spreads
// within itself, and how much of that comes out again, whatever is printed below.
const (
	scatter    = 0.4
	scatterOut = 0.6
)

// taped lays tape, writing and burns on the print, in the order in which they get there.
func (s *Scene) taped(c RGB, right, up float64) RGB {
	for i := range s.Tapes {
		c = s.Tapes[i].over(c, right, up)
	}
	for i := range s.Writings {
		c = s.Writings[i].over(c, right, up)
	}
	for i := range s.Burns {
		b := &s.Burns[i]
		if s.burnNear(i, right, up) {
			c = b.over(c, right, up, b.Dark(right, up))
		}
	}
	return c
}

// surroundings is the light from what lies round the plate, with the plate's shadow on it. It
// lies at the plate's back, ThickMM below the rings: seen under a slant, the plate's edge
// hides some of it.
func (s *Scene) surroundings(r ray) RGB {
	depth := -s.Plate.ThickMM
	right, up := r.meet(depth)
	c := s.Background.at(right, up)
	for i := range s.Clutter {
		if k := &s.Clutter[i]; !k.OnPlate && k.near(right, up) {
			c = k.over(c, right, up)
		}
	}
	light := s.Lights.on(right, up, depth)
	if !s.Absent && s.Plate.ThickMM > 0 && !s.within.shadowless(&s.Plate, right, up) {
		light = light.Times(s.dropShadow(right, up))
	}
	return c.Under(light)
}

// The plate's shadow (chosen by eye): the share of light that one lamp's shadow takes,
// the width in mm of its edge to either side, what is left at least, and how much of the
// even light the plate's corner hides.
const (
	lampShadow   = 0.35
	shadowEdgeMM = 0.5
	shadowLeast  = 0.15
	cornerShadow = 0.3
)

// dropShadow is the share of light left beside the plate, which stands h = ThickMM above.
// A place is in a lamp's shadow when the ray to the lamp, at (a, A) from the target's
// middle, crosses the plate at height h: at the place + (h/A) a, about.
func (s *Scene) dropShadow(right, up float64) float64 {
	left := 1.0
	for i := range s.Lights.Lamps {
		l := &s.Lights.Lamps[i]
		k := s.Plate.ThickMM / l.At[2]
		inside := s.Plate.Inside(right+l.At[0]*k, up+l.At[1]*k)
		left -= lampShadow * step(-shadowEdgeMM, shadowEdgeMM, inside)
	}
	// Corner by the plate: even light is half hidden there.
	return max(left, shadowLeast) * (1 - cornerShadow*step(-s.Plate.ThickMM, 0, s.Plate.Inside(right, up)))
}

// burnNear reports cheaply whether there can be any darkness of a burn at a place.
func (s *Scene) burnNear(i int, right, up float64) bool {
	b := &s.Burns[i]
	x, y := right-b.Lobes[0].Right, up-b.Lobes[0].Up
	if s.burnFar == nil {
		far := b.Reach()
		return x*x+y*y < far*far
	}
	return x*x+y*y < s.burnFar[i]
}
