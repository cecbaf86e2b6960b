package conic

import (
	"fmt"
	"math"
)

// Homography maps places on a plane to places in its image:
// (x, y, 1) ~ H (X, Y, 1). Its scale is free.
type Homography [3][3]float64

// Apply maps a point of the plane to the image. A point that the image shows
// at infinity gives infinite or NaN coordinates; nothing tells a point behind
// the camera from one before it.
func (h Homography) Apply(p Point) Point {
	v := h.times([3]float64{p.X, p.Y, 1})
	return Point{v[0] / v[2], v[1] / v[2]}
}

// Centre is the image of the plane's origin. For circles round the origin this
// is the true centre, which the middle of their image is not.
func (h Homography) Centre() Point { return h.Apply(Point{}) }

// Inverse maps the image back to the plane, scaled so that the last entry is 1
// where it can be. A plane seen edge-on gives ErrSingular.
func (h Homography) Inverse() (Homography, error) {
	adj := h.adjugate()
	det := dot(h[0], [3]float64{adj[0][0], adj[1][0], adj[2][0]})
	if size := h.norm() * adj.norm(); !(math.Abs(det) > 1e-15*size) || math.IsInf(size, 1) {
		return Homography{}, fmt.Errorf("inverse: %w", ErrSingular)
	}
	if last := adj[2][2]; math.Abs(last) > 1e-12*adj.norm() {
		det = last
	}
	for i := range adj {
		adj[i] = scaled(adj[i], 1/det)
	}
	return adj, nil
}

// Vanishing is the image of the plane's line at infinity.
func (h Homography) Vanishing() Line {
	return cross([3]float64{h[0][0], h[1][0], h[2][0]}, [3]float64{h[0][1], h[1][1], h[2][1]})
}

// Focal is the focal length, in px, of a camera with square pixels and this
// principal point whose picture of a plane with true angles is h. The first
// two columns of h are images of orthogonal directions of equal length, which
// is two equations for 1/f²; they are taken together, so that turning the
// plane's frame about its normal changes nothing.
//
// ErrSquareOn where the plane is square to the optical axis, or the equations
// leave no positive f². Noise in h grows in f with 1/tilt².
func (h Homography) Focal(principal Point) (float64, error) {
	var col [2][3]float64
	for j := range col {
		w := h[2][j]
		col[j] = [3]float64{h[0][j] - principal.X*w, h[1][j] - principal.Y*w, w}
	}
	a, b := col[0], col[1]
	direct := [2]float64{a[0]*a[0] + a[1]*a[1] - b[0]*b[0] - b[1]*b[1], 2 * (a[0]*b[0] + a[1]*b[1])}
	depth := [2]float64{a[2]*a[2] - b[2]*b[2], 2 * a[2] * b[2]}
	square := -(direct[0]*depth[0] + direct[1]*depth[1]) / (depth[0]*depth[0] + depth[1]*depth[1])
	if !(square > 0) || math.IsInf(square, 1) {
		return 0, ErrSquareOn
	}
	return math.Sqrt(square), nil
}

// CircleConic is the image under h of the circle of that radius round the
// plane's origin, scaled so that its largest entry is 1 or -1.
func CircleConic(h Homography, radius float64) Conic {
	adj := h.adjugate() // the inverse but for its scale, which a conic does not need
	var c Conic
	for i := range c {
		for j := range c {
			c[i][j] = adj[0][i]*adj[0][j] + adj[1][i]*adj[1][j] - radius*radius*adj[2][i]*adj[2][j]
		}
	}
	return c.normalised()
}

// normalised divides by the largest entry's size.
func (c Conic) normalised() Conic {
	var largest float64
	for _, row := range c {
		for _, v := range row {
			largest = max(largest, math.Abs(v))
		}
	}
	for i := range c {
		c[i] = scaled(c[i], 1/largest)
	}
	return c
}

// times is the product with a vector.
func (h Homography) times(v [3]float64) [3]float64 {
	return [3]float64{dot(h[0], v), dot(h[1], v), dot(h[2], v)}
}

// adjugate is the inverse times the determinant.
func (h Homography) adjugate() (adj Homography) {
	for i := range 3 {
		c := cross(h[(i+1)%3], h[(i+2)%3])
		for j := range 3 {
			adj[j][i] = c[j]
		}
	}
	return adj
}

// norm is the root of the sum of squares.
func (h Homography) norm() float64 {
	return math.Sqrt(dot(h[0], h[0]) + dot(h[1], h[1]) + dot(h[2], h[2]))
}
