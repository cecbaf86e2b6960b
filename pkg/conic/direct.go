package conic

import (
	"fmt"
	"math"
)

// FitDirect fits an ellipse to at least five points in one step, without
// iteration and without allocation: of all conics a x² + b xy + c y² + ... with
// 4ac - b² = 1 the one with the least sum of squared values at the points
// (A. Fitzgibbon, M. Pilu, R. Fisher, PAMI 21 (1999) 476; split in its
// quadratic and linear part as R. Halíř, J. Flusser, WSCG 1998; both from
// memory). It leans towards flatter, smaller ellipses on noisy short arcs.
//
// The fit does not change under affine maps of the plane, so the points are
// first centred and whitened, which costs nothing but keeps points far from
// the origin and nearly round sets exact.
//
// Errors: ErrTooFewPoints; ErrDegenerate for points on a line or too few
// different ones; ErrNotEllipse where the best conic is flat, such as a pair
// of parallel lines.
func FitDirect(points []Point) (Ellipse, error) {
	if len(points) < 5 {
		return Ellipse{}, fmt.Errorf("ellipse through %d points: %w", len(points), ErrTooFewPoints)
	}
	w, err := whiten(points)
	if err != nil {
		return Ellipse{}, err
	}
	linear := w.linearPart(points)
	scatter := w.scatter(points, linear)
	quadratic, err := leastConic(scatter)
	if err != nil {
		return Ellipse{}, err
	}
	return w.ellipse(quadratic, linear)
}

// whitening is the affine map (x, y) -> (p (x-X), q (x-X) + r (y-Y)) that gives
// a set of points the mean 0 and the covariance 1.
type whitening struct {
	Point
	p, q, r float64
}

// thinnest is the relative width below which points count as lying on a line.
// Its square stands just above the rounding in the sums of squares, 1e-16.
const thinnest = 1e-7

// whiten finds the map by the Cholesky factor of the covariance.
func whiten(points []Point) (whitening, error) {
	m := mean(points)
	var xx, xy, yy float64
	for _, p := range points {
		x, y := p.X-m.X, p.Y-m.Y
		xx, xy, yy = xx+x*x, xy+x*y, yy+y*y
	}
	n := float64(len(points))
	large, small, _ := symmetric2(xx/n, xy/n, yy/n)
	if !(small > thinnest*thinnest*large) || math.IsInf(large, 1) {
		return whitening{}, fmt.Errorf("points on a line: %w", ErrDegenerate)
	}
	// xx may be small beside yy, but by the check above not against rounding.
	sx := math.Sqrt(xx / n)
	sy := math.Sqrt((yy - xy*xy/xx) / n)
	return whitening{m, 1 / sx, -xy / (xx * sy), 1 / sy}, nil
}

// mean is the middle of the points; two passes, for points far from the origin.
func mean(points []Point) Point {
	var m Point
	for range 2 {
		var dx, dy float64
		for _, p := range points {
			dx, dy = dx+(p.X-m.X), dy+(p.Y-m.Y)
		}
		n := float64(len(points))
		m = Point{m.X + dx/n, m.Y + dy/n}
	}
	return m
}

// apply maps a point.
func (w whitening) apply(p Point) (x, y float64) {
	dx, dy := p.X-w.X, p.Y-w.Y
	return w.p * dx, w.q*dx + w.r*dy
}

// terms are the quadratic functions (x²+y²)/2, (x²-y²)/2, xy. In them the
// constraint 4ac - b² is u² - v² - w² for coefficients u, v, w.
func terms(x, y float64) [3]float64 { return [3]float64{(x*x + y*y) / 2, (x*x - y*y) / 2, x * y} }

// linearPart regresses each quadratic term on x, y and 1; row i holds the
// coefficients of term i. In whitened coordinates these are plain means.
func (w whitening) linearPart(points []Point) (t [3][3]float64) {
	for _, p := range points {
		x, y := w.apply(p)
		for i, z := range terms(x, y) {
			t[i][0] += z * x
			t[i][1] += z * y
			t[i][2] += z
		}
	}
	for i := range t {
		t[i] = scaled(t[i], 1/float64(len(points)))
	}
	return t
}

// scatter is the mean product of what the regression leaves of the terms. It
// is summed from the residuals, not as a difference of sums, so that it is 0
// to rounding for points that lie on a conic.
func (w whitening) scatter(points []Point, linear [3][3]float64) (s [3][3]float64) {
	for _, p := range points {
		x, y := w.apply(p)
		z := terms(x, y)
		for i := range z {
			z[i] -= linear[i][0]*x + linear[i][1]*y + linear[i][2]
		}
		for i := range z {
			for j := range z {
				s[i][j] += z[i] * z[j]
			}
		}
	}
	for i := range s {
		s[i] = scaled(s[i], 1/float64(len(points)))
	}
	return s
}

// leastConic minimises v^T S v under v0² - v1² - v2² = 1 for the scatter S of
// the terms; the result is scaled to v0 = 1.
//
// A stationary v fulfils S v = k diag(1,-1,-1) v, and by the law of inertia
// just one k > 0 does. With v = (1, g), where g solves the lower two rows, the
// upper row is a falling function of k with this one root; it is concave, so
// Newton's steps from the right cannot miss it.
func leastConic(s [3][3]float64) ([3]float64, error) {
	large, small, theta := symmetric2(s[1][1], s[1][2], s[2][2])
	sin, cos := math.Sincos(theta)
	// The lower right block in its own axes.
	h1, h2 := cos*s[0][1]+sin*s[0][2], cos*s[0][2]-sin*s[0][1]
	small = max(small, 0)
	k := s[0][0]
	if !(k > 0) {
		k = 0
	}
	for range 100 { // 6 are usual; each halves the distance at least
		d1, d2 := positive(large+k), positive(small+k)
		value := s[0][0] - k - h1*h1/d1 - h2*h2/d2
		slope := h1*h1/(d1*d1) + h2*h2/(d2*d2) - 1
		if !(slope < 0) {
			break
		}
		next := max(k-value/slope, 0)
		if !(next < k-1e-16*k) {
			break
		}
		k = next
	}
	// Four places, or four of five on a line, leave a family of conics.
	if small+k < 1e-14*(s[0][0]+large) { // rounding in the sums is 1e-16
		return [3]float64{}, fmt.Errorf("too few different points: %w", ErrDegenerate)
	}
	g1, g2 := -h1/positive(large+k), -h2/positive(small+k)
	// 1e-7 is an axis ratio of 1:6000 in coordinates in which the points are as
	// wide as they are high; two parallel lines come to 1e-8 by rounding.
	if !(1-g1*g1-g2*g2 > 1e-7) {
		return [3]float64{}, fmt.Errorf("best curve is open or flat: %w", ErrNotEllipse)
	}
	return [3]float64{1, cos*g1 - sin*g2, sin*g1 + cos*g2}, nil
}

// positive keeps a divisor off zero; what it divides is zero then, too.
func positive(v float64) float64 { return max(v, math.SmallestNonzeroFloat64*1e16) }

// ellipse undoes the whitening for the conic with these coefficients of the
// quadratic terms.
func (w whitening) ellipse(v [3]float64, linear [3][3]float64) (Ellipse, error) {
	xx, xy, yy := (v[0]+v[1])/2, v[2]/2, (v[0]-v[1])/2
	var l [3]float64 // the linear part that goes with them
	for i := range v {
		l = plus(l, scaled(linear[i], -v[i]))
	}
	c := Conic{{xx, xy, l[0] / 2}, {xy, yy, l[1] / 2}, {l[0] / 2, l[1] / 2, l[2]}}
	m, err := c.Centre()
	if err != nil {
		return Ellipse{}, err
	}
	k := -c.At(m)
	if !(k > 0) {
		return Ellipse{}, ErrNotEllipse
	}
	// Centre and form back to the plane of the points.
	x := m.X / w.p
	y := (m.Y - w.q*x) / w.r
	return ellipseOf(Point{w.X + x, w.Y + y},
		(xx*w.p*w.p+2*xy*w.p*w.q+yy*w.q*w.q)/k,
		(xy*w.p+yy*w.q)*w.r/k,
		yy*w.r*w.r/k)
}
