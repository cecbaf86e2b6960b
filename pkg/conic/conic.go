// Package conic knows ellipses and circles in the plane: how to fit them to
// points, and what perspective makes of a circle.
//
// All lengths are in the unit of the points that come in (pixels, as a rule);
// angles are in radians from +x to +y, whichever way y runs.
package conic

import (
	"errors"
	"math"
)

// Errors a caller may branch on.
var (
	ErrTooFewPoints  = errors.New("too few points")
	ErrDegenerate    = errors.New("points do not fix the curve")
	ErrNotEllipse    = errors.New("not an ellipse")
	ErrShortArc      = errors.New("arc too short to fix the curve")
	ErrNotConverged  = errors.New("fit does not converge")
	ErrNotConcentric = errors.New("not the image of two concentric circles")
	ErrSingular      = errors.New("singular homography")
	ErrSquareOn      = errors.New("plane seen too squarely to fix the focal length")
)

// Point is a place in the plane.
type Point struct{ X, Y float64 }

// Line is the set of points with l[0] x + l[1] y + l[2] = 0, at any scale.
type Line [3]float64

// Conic is the symmetric matrix C of the curve (x, y, 1) C (x, y, 1)^T = 0.
// Its scale is free. What this package returns is negative inside an ellipse.
//
// A small ellipse far from the origin cannot be told by its matrix: the last
// entry grows with the square of distance over size. Keep an Ellipse where
// that ratio passes 1e5.
type Conic [3][3]float64

// At is the value of the quadratic form at p, in the matrix's own scale.
func (c Conic) At(p Point) float64 {
	v := [3]float64{p.X, p.Y, 1}
	return dot(v, c.times(v))
}

// Polar is the line C p. The polar of a circle's centre, in its image, is the
// vanishing line of the circle's plane.
func (c Conic) Polar(p Point) Line { return c.times([3]float64{p.X, p.Y, 1}) }

// Centre is the point about which the conic is symmetric. For the image of a
// circle it is NOT the image of the circle's centre. A parabola has none:
// ErrNotEllipse.
func (c Conic) Centre() (Point, error) {
	det := c[0][0]*c[1][1] - c[0][1]*c[0][1]
	// 1e-14 is rounding in the two products above.
	if !(math.Abs(det) > 1e-14*(c[0][0]*c[0][0]+c[1][1]*c[1][1])) {
		return Point{}, ErrNotEllipse
	}
	return Point{
		X: (c[0][1]*c[1][2] - c[1][1]*c[0][2]) / det,
		Y: (c[0][1]*c[0][2] - c[0][0]*c[1][2]) / det,
	}, nil
}

// Ellipse gives centre, semi-axes and angle. A hyperbola, a parabola, a pair
// of lines and an ellipse without real points give ErrNotEllipse.
func (c Conic) Ellipse() (Ellipse, error) {
	m, err := c.Centre()
	if err != nil {
		return Ellipse{}, err
	}
	// With the origin moved to the centre: (x-m)^T A (x-m) = k.
	k := -dot([3]float64{m.X, m.Y, 1}, c.times([3]float64{m.X, m.Y, 1}))
	return ellipseOf(m, c[0][0]/k, c[0][1]/k, c[1][1]/k)
}

// times is the product with a vector.
func (c Conic) times(v [3]float64) [3]float64 { return Homography(c).times(v) }

// dot is the scalar product.
func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// cross is the vector product.
func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// scaled is the vector times a number.
func scaled(a [3]float64, by float64) [3]float64 {
	return [3]float64{a[0] * by, a[1] * by, a[2] * by}
}

// plus is the vector sum.
func plus(a, b [3]float64) [3]float64 {
	return [3]float64{a[0] + b[0], a[1] + b[1], a[2] + b[2]}
}
