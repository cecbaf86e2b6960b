package optics

import "math"

// Edge is a straight edge across a beam: of rays parallel to the beam's middle
// one, displaced by s, those with s·Toward < At pass. Toward is a unit vector
// across the beam.
type Edge struct {
	Toward Vec
	At     float64 // mm, negative when the middle ray itself is cut off
}

// Landing is where a beam ends.
type Landing struct {
	At    Vec
	Along Vec // of the beam there
	// Edges are those of the mirrors, in order, carried along to the end. What passes
	// all of them arrives.
	Edges []Edge
	// Hits are the places on the mirrors, in order.
	Hits []Vec
}

// Follow traces a ray from mirror to mirror to the screen, whatever the mirrors'
// edges; Landing.Edges say what they cut off. It is false when a mirror or the
// screen is missed altogether: met from behind, or never.
func Follow(r Ray, mirrors []Mirror, screen Plane) (Landing, bool) {
	var end Landing
	for _, m := range mirrors {
		hit, ok := r.Meet(m.Plane)
		if !ok {
			return Landing{}, false
		}
		end.Hits = append(end.Hits, hit)
		end.Edges = append(end.Edges, m.edge(hit, r.Along))
		// Mirrored along with the beam, an edge stays that edge.
		for i := range end.Edges {
			end.Edges[i].Toward = Reflect(end.Edges[i].Toward, m.Plane.Normal)
		}
		r = Ray{From: hit, Along: Reflect(r.Along, m.Plane.Normal)}
	}
	at, ok := r.Meet(screen)
	end.At, end.Along = at, r.Along
	return end, ok
}

// tiny is what keeps a direction from being zero when the beam meets a mirror square on: so
// little that no place moves by a nanometre.
const tiny = 1e-9

// edge is the mirror's rim where the beam comes nearest to it. A parallel ray
// displaced by s across the beam d meets the plane at hit + s - d(s·n)/(d·n). Its
// distance from the middle along the direction u of the hit is |hit - middle| + s·g
// with g = u - n(u·d)/(d·n), and g is square to d.
func (m Mirror) edge(hit, d Vec) Edge {
	off := hit.Minus(m.Middle)
	far := off.Len()
	if far == 0 {
		// At the middle any direction is as near: take one across the beam.
		return Edge{Toward: d.Cross(m.Plane.Normal).Plus(anyAcross(d).Times(tiny)).Unit(), At: m.Clear / 2}
	}
	u, n := off.Times(1/far), m.Plane.Normal
	g := u.Minus(n.Times(u.Dot(d) / d.Dot(n)))
	return Edge{Toward: g.Unit(), At: (m.Clear/2 - far) / g.Len()}
}

// nearlyX is how much of d may lie along x before y is taken instead: the product with the
// axis taken is never shorter than √(1 - 0.9²) = 0.44 of d.
const nearlyX = 0.9

// anyAcross is some unit vector square to d: d times the x axis, or the y axis when d lies
// nearly along x.
func anyAcross(d Vec) Vec {
	other := Vec{1, 0, 0}
	if math.Abs(d.X) > nearlyX*d.Len() {
		other = Vec{0, 1, 0}
	}
	return d.Cross(other).Unit()
}

// Across gives two unit vectors square to a direction and to each other, the
// same ones for the same direction.
func Across(d Vec) (Vec, Vec) {
	a := anyAcross(d)
	return a, d.Cross(a).Unit()
}
