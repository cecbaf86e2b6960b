package conic

import "math"

// circles is the family of circles: x, y, r.
type circles struct{ points []Point }

func (c circles) residuals(p []float64, row func(float64, []float64)) bool {
	slope := make([]float64, 3)
	for _, q := range c.points {
		dx, dy := q.X-p[0], q.Y-p[1]
		r := math.Hypot(dx, dy)
		slope[0], slope[1], slope[2] = -dx/r, -dy/r, -1
		if r == 0 {
			slope[0], slope[1] = 0, 0
		}
		row(r-p[2], slope)
	}
	return p[2] > 0
}

// ellipses is the family of ellipses c + S u for u on the unit circle, with a
// symmetric S: x, y, Sxx, Sxy, Syy. Unlike semi-axes and angle these have no
// singular place at circles.
type ellipses struct{ points []Point }

// parameters of an ellipse in this family.
func parameters(e Ellipse) []float64 {
	s, c := math.Sincos(e.Theta)
	return []float64{e.X, e.Y, e.A*c*c + e.B*s*s, (e.A - e.B) * s * c, e.A*s*s + e.B*c*c}
}

// ellipse with these parameters; B <= 0 where there is none.
func (ellipses) ellipse(p []float64) Ellipse {
	large, small, theta := symmetric2(p[2], p[3], p[4])
	return Ellipse{p[0], p[1], large, small, fold(theta)}.round()
}

// angles are the eccentric angles of the points' nearest places on e.
func (s ellipses) angles(e Ellipse) []float64 {
	out := make([]float64, len(s.points))
	for i, p := range s.points {
		foot := e.foot(e.inward(p))
		out[i] = math.Atan2(foot.Y/e.B, foot.X/e.A)
	}
	return out
}

// residuals: moving the curve's point with a fixed u by dq changes the
// distance by -n·dq, n the outward normal; sliding along the curve does not
// count, as the distance is least there.
func (s ellipses) residuals(p []float64, row func(float64, []float64)) bool {
	e := s.ellipse(p)
	if !(e.B > 0) {
		return false
	}
	sin, cos := math.Sincos(e.Theta)
	slope := make([]float64, 5)
	for _, q := range s.points {
		at := e.inward(q)
		foot := e.foot(at)
		u, v := foot.X/e.A, foot.Y/e.B
		norm := math.Hypot(u/e.A, v/e.B)
		a, b := u/e.A/norm, v/e.B/norm
		d := (at.X-foot.X)*a + (at.Y-foot.Y)*b
		// Normal and u, turned to the plane's axes.
		nx, ny := cos*a-sin*b, sin*a+cos*b
		ux, uy := cos*u-sin*v, sin*u+cos*v
		slope[0], slope[1] = -nx, -ny
		slope[2], slope[3], slope[4] = -nx*ux, -(nx*uy + ny*ux), -ny*uy
		row(d, slope)
	}
	return true
}
