package machine

import (
	"fmt"
)

// Path is the way of the nominal beam with the head at one station, no screw
// turned.
type Path struct {
	Station string
	// Points are the source, the spot on each mirror, and the spot on the target,
	// mm in the machine's frame.
	Points []Vec
	// OffMM are how far the beam meets each mirror from its middle.
	OffMM []float64
	// RightMM and UpMM are the spot on the target, facing it.
	RightMM, UpMM float64
}

// LengthMM is the length of a leg of the path: 0 from the source to the first
// mirror, the last one from the last mirror to the target.
func (p Path) LengthMM(leg int) float64 { return p.Points[leg+1].Sub(p.Points[leg]).Norm() }

// TraceError says where the nominal beam is lost.
type TraceError struct {
	Station string
	Where   string // "mirror 2" or "the target"
	Text    string // what happens there
}

// Error is one line, lower case.
func (e *TraceError) Error() string {
	return fmt.Sprintf("with the head at %s the beam does not meet %s: %s", e.Station, e.Where, e.Text)
}

// facet is a plane that the beam meets: a mirror or the target.
type facet struct {
	name       string
	at, normal Vec
}

// facets are the mirrors and, last, the target, where they are at a station.
func (p Profile) facets(s Station) []facet {
	list := make([]facet, 0, len(p.Mirrors)+1)
	for _, m := range p.Mirrors {
		list = append(list, facet{"mirror " + m.Name, s.At(m.Rides, m.AtMM), m.Normal})
	}
	return append(list, facet{"the target", s.At(p.Target.Rides, p.Target.AtMM), p.Target.Normal})
}

// Trace follows the nominal beam to a station's target. A ray from a with the direction d
// meets the plane through p with the normal n where (a + k d - p)·n = 0, at
//
//	a + k d,   k = ((p - a)·n)/(d·n),
//
// and goes on by the law of reflection: the part of d along n turns round and the rest
// stays,
//
//	r = d - 2(d·n)n.
//
// d·n must be below 0, as n points out of the reflecting side, and k above 0. The spot on
// the target is what the last point lies off the target's middle, along its right and up.
// The error is a *TraceError, or names a station that the profile does not have. Mirrors'
// edges do not stop the beam: see Path.OffMM.
func (p Profile) Trace(station string) (Path, error) {
	s, ok := p.Station(station)
	if !ok {
		return Path{}, fmt.Errorf("the profile has no station %q", station)
	}
	at, d := p.Source.AtMM, p.Source.Direction
	path := Path{Station: station, Points: []Vec{at}}
	facets := p.facets(s)
	for i, f := range facets {
		way, facing := f.at.Sub(at).Dot(f.normal), d.Dot(f.normal)
		switch {
		case facing > decide.EdgeOn:
			return Path{}, &TraceError{station, f.name, "it comes from behind: turn its normal round"}
		case facing > -decide.EdgeOn:
			return Path{}, &TraceError{station, f.name, "it runs along its face: check its normal"}
		case way/facing <= 0:
			return Path{}, &TraceError{station, f.name, "it goes the other way: check the normal of the mirror before and both places"}
		}
		at = at.Add(d.Times(way / facing))
		path.Points = append(path.Points, at)
		if i < len(p.Mirrors) {
			path.OffMM = append(path.OffMM, at.Sub(f.at).Norm())
			d = d.Sub(f.normal.Times(2 * facing))
		}
	}
	off := at.Sub(facets[len(facets)-1].at)
	path.RightMM, path.UpMM = off.Dot(p.Target.Right()), off.Dot(p.Target.Up)
	return path, nil
}
