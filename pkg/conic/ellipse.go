package conic

import "math"

// Ellipse is told by its centre, its semi-axes A >= B > 0 and the angle of the
// major axis, from +x to +y, in (-pi/2, pi/2]. A circle has Theta 0.
type Ellipse struct{ X, Y, A, B, Theta float64 }

// Centre is the ellipse's centre.
func (e Ellipse) Centre() Point { return Point{e.X, e.Y} }

// At is the point with eccentric angle t, counted from the major axis towards
// the side to which +x turns into +y.
func (e Ellipse) At(t float64) Point {
	s, c := math.Sincos(t)
	return e.outward(Point{e.A * c, e.B * s})
}

// Nearest is the point of the ellipse closest to p. Where several are equally
// close (p on the inner part of the major axis) it is one of them.
func (e Ellipse) Nearest(p Point) Point { return e.outward(e.foot(e.inward(p))) }

// Distance is the shortest distance from p to the ellipse, negative inside.
func (e Ellipse) Distance(p Point) float64 {
	local := e.inward(p)
	foot := e.foot(local)
	return math.Copysign(math.Hypot(local.X-foot.X, local.Y-foot.Y), e.form(local))
}

// Sampson is the first-order estimate of Distance: the value of the quadratic
// form over the length of its gradient. For a circle of radius r it is
// d (1 + d/2r) / (1 + d/r), so it falls short by the part d/2r, about. -Inf at
// the centre.
func (e Ellipse) Sampson(p Point) float64 {
	local := e.inward(p)
	gradient := 2 * math.Hypot(local.X/(e.A*e.A), local.Y/(e.B*e.B))
	return e.form(local) / gradient
}

// Conic is the ellipse's matrix, scaled so that it is -1 at the centre.
func (e Ellipse) Conic() Conic {
	s, c := math.Sincos(e.Theta)
	a, b := 1/(e.A*e.A), 1/(e.B*e.B)
	xx, xy, yy := a*c*c+b*s*s, (a-b)*s*c, a*s*s+b*c*c
	x, y := -(xx*e.X + xy*e.Y), -(xy*e.X + yy*e.Y)
	return Conic{{xx, xy, x}, {xy, yy, y}, {x, y, -(x*e.X + y*e.Y) - 1}}
}

// inward takes a point to the ellipse's own axes.
func (e Ellipse) inward(p Point) Point {
	s, c := math.Sincos(e.Theta)
	x, y := p.X-e.X, p.Y-e.Y
	return Point{c*x + s*y, c*y - s*x}
}

// outward takes a point back from the ellipse's own axes.
func (e Ellipse) outward(p Point) Point {
	s, c := math.Sincos(e.Theta)
	return Point{e.X + c*p.X - s*p.Y, e.Y + s*p.X + c*p.Y}
}

// form is the quadratic form in the ellipse's own axes: -1 at the centre, 0 on
// the curve.
func (e Ellipse) form(p Point) float64 {
	x, y := p.X/e.A, p.Y/e.B
	return x*x + y*y - 1
}

// foot is the closest point of the curve in the ellipse's own axes.
//
// With p in the first quadrant the closest point is (a²x/(k+a²), b²y/(k+b²))
// where k > -b² puts it on the curve (D. Eberly, "Distance from a point to an
// ellipse, an ellipsoid, or a hyperellipsoid", 2013; from memory). In k the
// condition is convex and falls, so that Newton's steps from the left of the
// root never pass it.
func (e Ellipse) foot(p Point) Point {
	x, y := math.Abs(p.X)/e.A, math.Abs(p.Y)/e.B
	ratio := (e.A / e.B) * (e.A / e.B)
	if y == 0 && ratio > 1 && x*ratio <= ratio-1 {
		// The centre's side of the evolute: the foot leaves the axis.
		u := x * ratio / (ratio - 1)
		return Point{math.Copysign(e.A*u, p.X), math.Copysign(e.B*math.Sqrt(1-u*u), p.Y)}
	}
	s := footParameter(x, y, ratio)
	u, v := ratio*x/(s+ratio-1), y/s
	if norm := math.Hypot(u, v); norm > 0 {
		u, v = u/norm, v/norm
	} else {
		u, v = 0, 1 // centre of a circle: every point is as close
	}
	return Point{math.Copysign(e.A*u, p.X), math.Copysign(e.B*v, p.Y)}
}

// footParameter solves (r x/(s+r-1))² + (y/s)² = 1 for s > 0, r >= 1: the
// distance from the pole, so that a y near 0 does not drown in rounding.
func footParameter(x, y, r float64) float64 {
	s := max(y, r*(x-1)+1) // both make one term 1: left of the root
	for range 60 {         // 5 are usual
		if s <= 0 {
			return s
		}
		u, v := r*x/(s+r-1), y/s
		step := (u*u + v*v - 1) / (2 * (u*u/(s+r-1) + v*v/s))
		s += step
		if !(step > 1e-15*s) {
			break
		}
	}
	return s
}

// ellipseOf is the ellipse (x-m)^T A (x-m) = 1 of the symmetric A.
func ellipseOf(m Point, xx, xy, yy float64) (Ellipse, error) {
	large, small, theta := symmetric2(xx, xy, yy)
	if !(small > 0) || math.IsInf(large, 1) {
		return Ellipse{}, ErrNotEllipse
	}
	// The larger eigenvalue belongs to the minor axis.
	return Ellipse{m.X, m.Y, 1 / math.Sqrt(small), 1 / math.Sqrt(large), fold(theta + math.Pi/2)}.round(), nil
}

// round gives a circle its angle 0: to within rounding there is none to tell.
func (e Ellipse) round() Ellipse {
	if e.A-e.B <= 4e-16*e.A {
		e.Theta = 0
	}
	return e
}

// symmetric2 is the eigenvalues of a symmetric 2 x 2 matrix, the larger first,
// and the angle of its direction.
func symmetric2(xx, xy, yy float64) (large, small, theta float64) {
	mean, half := (xx+yy)/2, math.Hypot((xx-yy)/2, xy)
	large, small = mean+half, mean-half
	if mean > 0 {
		small = (xx*yy - xy*xy) / large // without the cancellation
	}
	return large, small, 0.5 * math.Atan2(2*xy, xx-yy)
}

// fold brings the angle of an axis into (-pi/2, pi/2].
func fold(theta float64) float64 {
	theta = math.Remainder(theta, math.Pi)
	if theta <= -math.Pi/2 {
		theta += math.Pi
	}
	return theta
}
