package rehearsal

import (
	"math"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal/optics"
)

// layout is the machine as it really is with the head at one station.
type layout struct {
	source, pointer optics.Ray     // towards the first mirror
	pointerMount    *optics.Mount  // of the plate that throws the pointer's ray there, nil when the profile has none
	mounts          []optics.Mount // of the mirrors
	screen          optics.Plane
	right, up       optics.Vec // on the target, facing it
}

// vec takes a profile's vector over.
func vec(v machine.Vec) optics.Vec { return optics.Vec{X: v[0], Y: v[1], Z: v[2]} }

// radians of an angle in degrees.
func radians(deg float64) float64 { return deg * math.Pi / 180 }

// newLayout puts the faults into the profile: where everything really stands with the
// head at (x, y) of a station. The frame is the machine's, x, y, z in mm; the target's right
// is -normal × up, as one faces it.
func newLayout(p machine.Profile, f Faults, s machine.Station) layout {
	travel := stretched(p, f, s)
	places := truePlaces(p, f)
	var l layout
	l.source = outOfLine(optics.Ray{From: places[0], Along: vec(p.Source.Direction)}, f.Source)
	l.pointer = outOfLine(l.source, f.Pointer)
	l.pointerMount = pointerMount(p, f, places[1])
	for i, m := range p.Mirrors {
		l.mounts = append(l.mounts, mount(m, f.Mirrors[i], places[i+1].Plus(carried(travel, m.Rides))))
	}
	t := p.Target
	middle := places[len(places)-1].Plus(carried(travel, t.Rides))
	if t.Rides == machine.Head {
		middle.Z += f.TwistMM * corner(p, s)
	}
	l.screen = optics.Plane{Through: middle, Normal: vec(t.Normal)}
	l.right, l.up = vec(t.Normal).Times(-1).Cross(vec(t.Up)), vec(t.Up)
	return l
}

// carried is how far a part has moved with the head at (x, y): what rides on the gantry by y,
// what rides on the head by both, what sits on the frame not at all.
func carried(travel [2]float64, rides machine.Rides) optics.Vec {
	switch rides {
	case machine.Gantry:
		return optics.Vec{Y: travel[1]}
	case machine.Head:
		return optics.Vec{X: travel[0], Y: travel[1]}
	}
	return optics.Vec{}
}

// corner is x times y of a station as a share of the largest of all stations: a gantry whose
// rail is twisted along its way lifts the head in proportion to both, as the surface z = xy
// does whose sections are all straight.
func corner(p machine.Profile, s machine.Station) float64 {
	most := 0.0
	for _, k := range p.Stations {
		most = math.Max(most, math.Abs(k.XMM*k.YMM))
	}
	if most == 0 {
		return 0
	}
	return s.XMM * s.YMM / most
}

// places of the profile with the head at x = y = 0, in mm: source, mirrors, target, in the
// order of the beam.
func places(p machine.Profile) []optics.Vec {
	list := []optics.Vec{vec(p.Source.AtMM)}
	for _, m := range p.Mirrors {
		list = append(list, vec(m.AtMM))
	}
	return append(list, vec(p.Target.AtMM))
}

// truePlaces stretches each leg of the path by its factor f, from the target back to the
// source: p(i) = p(i+1) - f(i) (q(i+1) - q(i)) with the profile's places q. Every leg keeps
// its direction, so that an aligned machine stays aligned whatever its lengths.
func truePlaces(p machine.Profile, f Faults) []optics.Vec {
	nominal := places(p)
	list := make([]optics.Vec, len(nominal))
	last := len(nominal) - 1
	list[last] = nominal[last]
	for i := last - 1; i >= 0; i-- {
		list[i] = list[i+1].Minus(nominal[i+1].Minus(nominal[i]).Times(f.Legs[i]))
	}
	return list
}

// stretched is how far the head has really gone from x = y = 0: along each axis
// as much more as the first leg that this axis changes is longer. A leg changes with x when
// one of its ends rides on the head and the other does not, with y when one of them sits on
// the frame and the other does not. A leg of length l(x) = l(0) + x is then f l(x) = f l(0) + f x
// long: the travel stretches by the leg's own factor.
func stretched(p machine.Profile, f Faults, s machine.Station) [2]float64 {
	rides := []machine.Rides{machine.Frame}
	for _, m := range p.Mirrors {
		rides = append(rides, m.Rides)
	}
	rides = append(rides, p.Target.Rides)
	x, y := s.XMM, s.YMM
	for i := len(f.Legs) - 1; i >= 0; i-- {
		from, to := rides[i], rides[i+1]
		if (from == machine.Head) != (to == machine.Head) {
			x = s.XMM * f.Legs[i]
		}
		if (from == machine.Frame) != (to == machine.Frame) {
			y = s.YMM * f.Legs[i]
		}
	}
	return [2]float64{x, y}
}

// outOfLine turns and shifts a beam about the two axes a, b across it: by the rotation
// vector aim_a a + aim_b b, whose length is the angle, and by shift_a a + shift_b b.
func outOfLine(r optics.Ray, f BeamFault) optics.Ray {
	a, b := optics.Across(r.Along)
	axis := a.Times(radians(f.AimDeg[0])).Plus(b.Times(radians(f.AimDeg[1])))
	return optics.Ray{
		From:  r.From.Plus(a.Times(f.ShiftMM[0])).Plus(b.Times(f.ShiftMM[1])),
		Along: r.Along.Turned(axis),
	}
}

// pointerMount is the red pointer's mount on the first leg of the beam's way,
// nil without one. first is where the first mirror really stands.
func pointerMount(p machine.Profile, f Faults, first optics.Vec) *optics.Mount {
	if p.Pointer == nil {
		return nil
	}
	back := vec(p.Pointer.AtMM).Minus(vec(p.Mirrors[0].AtMM)).Times(f.Legs[0])
	// How the mount itself sits is in Faults.Pointer: where the ray goes at the start.
	plate := machine.Mirror{Normal: p.Pointer.Normal, Up: p.Pointer.Up, Screws: p.Pointer.Screws}
	m := mount(plate, MirrorFault{}, first.Plus(back))
	return &m
}

// mount is a mirror's mount as it really sits, no screw turned yet. Its axes are right =
// normal × up (as seen from behind), up and normal, all turned by the rotation vector of the
// tilt; its middle is shifted along the axes before they are turned. Screw points are
// counted in the mount's own axes.
func mount(m machine.Mirror, f MirrorFault, at optics.Vec) optics.Mount {
	normal, up := vec(m.Normal), vec(m.Up)
	right := normal.Cross(up) // as seen from behind
	axis := right.Times(radians(f.TiltDeg[0])).Plus(up.Times(radians(f.TiltDeg[1])))
	out := optics.Mount{
		Middle: at.Plus(right.Times(f.ShiftMM[0])).Plus(up.Times(f.ShiftMM[1])).Plus(normal.Times(f.ShiftMM[2])),
		Right:  right.Turned(axis), Up: up.Turned(axis), Normal: normal.Turned(axis), Clear: m.ClearMM,
	}
	for i, s := range m.Screws.Points {
		out.Points[i] = [2]float64{s.RightMM, s.UpMM}
	}
	return out
}
