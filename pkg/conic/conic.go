// Package conic fits ellipses to points, and finds how a circle lies that the
// camera sees as an ellipse.
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
	ErrTooFewPoints = errors.New("too few points")
	ErrDegenerate   = errors.New("points do not fix the curve")
	ErrNotEllipse   = errors.New("not an ellipse")
)

// Point is a place in the plane.
type Point struct{ X, Y float64 }

// Conic is the symmetric matrix C of the curve (x, y, 1) C (x, y, 1)^T = 0.
// Its scale is free. What this package returns is negative inside an ellipse.
//
// A small ellipse far from the origin is lost in its matrix to rounding: the last
// entry grows with the square of distance over size. Keep an Ellipse where
// that ratio passes 1e5.
type Conic [3][3]float64

// At is the value of the quadratic form at p, in the matrix's own scale.
func (c Conic) At(p Point) float64 {
	v := [3]float64{p.X, p.Y, 1}
	return dot(v, c.times(v))
}

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

// times is the product with a vector.
func (c Conic) times(v [3]float64) [3]float64 {
	return [3]float64{dot(c[0], v), dot(c[1], v), dot(c[2], v)}
}

// adjugate is the inverse times the determinant.
func (c Conic) adjugate() (adj Conic) {
	for i := range 3 {
		row := cross(c[(i+1)%3], c[(i+2)%3])
		for j := range 3 {
			adj[j][i] = row[j]
		}
	}
	return adj
}

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
