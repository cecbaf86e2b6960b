package studio

import (
	"math"
	"slices"
)

// bounds save most rays the exact distance to the plate's edge. They change no
// value: where they answer, the exact answer would come to the same.
type bounds struct {
	ready bool
	deep  float64 // squared radius within which a place is on the plate and clear of its bevel
	out   float64 // squared radius beyond which it is not on the plate
	far   float64 // squared radius beyond which the plate throws no shadow
}

// boundsRoom keeps rounding away from the bounds, mm.
const boundsRoom = 0.01

// prepared is a copy of the scene that is quicker to look at: what does not depend on the
// place is worked out once. It shows the same light, to the last bit.
func (s *Scene) prepared() *Scene {
	fast := *s
	fast.keepTurns()
	fast.burnFar = make([]float64, len(s.Burns))
	for i := range s.Burns {
		far := s.Burns[i].Reach()
		fast.burnFar[i] = far * far
	}
	fast.within = s.bounds()
	return &fast
}

// keepTurns works out once what is the same for all places.
func (s *Scene) keepTurns() {
	s.Background.axis.keep(s.Background.Deg)
	s.Tapes, s.Burns, s.Clutter = slices.Clone(s.Tapes), slices.Clone(s.Burns), slices.Clone(s.Clutter)
	for i := range s.Tapes {
		t := &s.Tapes[i]
		t.axis.keep(t.Deg)
		t.Wrinkles = slices.Clone(t.Wrinkles)
		for j := range t.Wrinkles {
			t.Wrinkles[j].axis.keep(t.Wrinkles[j].Deg)
		}
	}
	for i := range s.Burns {
		s.Burns[i] = s.Burns[i].keptTurns()
	}
	for i := range s.Clutter {
		s.Clutter[i].axis.keep(s.Clutter[i].Deg)
	}
}

// bounds of the plate; none that help for one without an edge. A disc lies between equal
// radii, a box between half its shorter side and half its diagonal (round corners and a
// turn only help). Its shadow reaches as far as the lowest lamp throws the rim: a h/A for a
// lamp aside by a at the height A, and the soft edge.
func (s *Scene) bounds() bounds {
	p := &s.Plate
	inner, outer := p.WidthMM/2, p.WidthMM/2
	switch {
	case s.Absent || p.Shape == PlateSheet:
		return bounds{}
	case p.Shape == PlateBox:
		inner, outer = min(p.WidthMM, p.HeightMM)/2, math.Hypot(p.WidthMM, p.HeightMM)/2
	}
	shadow := p.ThickMM
	for _, l := range s.Lights.Lamps {
		shadow = max(shadow, math.Hypot(l.At[0], l.At[1])*p.ThickMM/l.At[2]+shadowEdgeMM)
	}
	square := func(v float64) float64 { return max(v, 0) * max(v, 0) }
	return bounds{ready: true, deep: square(inner - max(p.BevelMM, 0) - boundsRoom),
		out: square(outer + boundsRoom), far: square(outer + shadow + boundsRoom)}
}

// insidePlate is Plate.Inside, infinite where only its sign matters.
func (s *Scene) insidePlate(right, up float64) float64 {
	if s.within.ready {
		x, y := right-s.Plate.Right, up-s.Plate.Up
		switch d := x*x + y*y; {
		case d < s.within.deep:
			return math.Inf(1)
		case d > s.within.out:
			return math.Inf(-1)
		}
	}
	return s.Plate.Inside(right, up)
}

// shadowless reports places that are surely out of the plate's shadow.
func (b *bounds) shadowless(p *Plate, right, up float64) bool {
	x, y := right-p.Right, up-p.Up
	return b.ready && x*x+y*y > b.far
}
