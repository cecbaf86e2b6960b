package conic

import "math"

// Ellipse is given by its centre, its semi-axes A >= B > 0 and the angle of the
// major axis, from +x to +y, in (-pi/2, pi/2]. A circle has Theta 0.
type Ellipse struct{ X, Y, A, B, Theta float64 }

// At is the point with eccentric angle t, counted from the major axis towards
// the side to which +x turns into +y.
func (e Ellipse) At(t float64) Point {
	s, c := math.Sincos(t)
	return e.outward(Point{e.A * c, e.B * s})
}

// Conic is the ellipse's matrix, scaled so that it is -1 at the centre: in its own
// axes x²/A² + y²/B² - 1, turned by Theta and moved to the centre.
func (e Ellipse) Conic() Conic {
	s, c := math.Sincos(e.Theta)
	a, b := 1/(e.A*e.A), 1/(e.B*e.B)
	xx, xy, yy := a*c*c+b*s*s, (a-b)*s*c, a*s*s+b*c*c
	x, y := -(xx*e.X + xy*e.Y), -(xy*e.X + yy*e.Y)
	return Conic{{xx, xy, x}, {xy, yy, y}, {x, y, -(x*e.X + y*e.Y) - 1}}
}

// outward takes a point back from the ellipse's own axes.
func (e Ellipse) outward(p Point) Point {
	s, c := math.Sincos(e.Theta)
	return Point{e.X + c*p.X - s*p.Y, e.Y + s*p.X + c*p.Y}
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

// round gives a circle its angle 0: to within rounding it has none.
func (e Ellipse) round() Ellipse {
	if e.A-e.B <= 4e-16*e.A {
		e.Theta = 0
	}
	return e
}

// symmetric2 is the eigenvalues of a symmetric 2 x 2 matrix, the larger first,
// and the angle of its direction: mean ± half for half = √(((xx-yy)/2)² + xy²), at
// the angle ½ atan2(2xy, xx-yy).
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
