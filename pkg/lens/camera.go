// Package lens is the camera as measuring sees it: a pinhole with one term of radial
// distortion, the pose of a plane before it, and what is known of a phone's camera
// before the target is looked at.
package lens

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
)

// Camera is a pinhole camera with one term of radial distortion, in px of the
// upright photo. The pixel (x, y) at distance d from the principal point
// stands for the undistorted pixel at d (1 + K1 (d/HalfDiagonal)²).
type Camera struct {
	Focal        float64 // px
	X, Y         float64 // principal point, px
	K1           float64 // 1
	HalfDiagonal float64 // px, the unit of K1
}

// Pose places the target before the camera. The columns of R are the target's
// right, up and Apart directions in camera axes (x right, y down, z forward);
// T is the rings' common centre in mm (or in whatever unit the plane is in).
type Pose struct {
	R [3][3]float64
	T [3]float64
}

// Project maps a place on the target plane (right, up, mm) to a pixel. A place
// behind the camera gives NaN. In camera axes the place is
//
//	(x, y, z)ᵀ = R (right, up, 0)ᵀ + T
//
// and a pinhole sees it at Focal (x, y)/z from the principal point; the lens then
// moves it along that direction (distortionScale).
func (c Camera) Project(p Pose, right, up float64) conic.Point {
	x := p.R[0][0]*right + p.R[0][1]*up + p.T[0]
	y := p.R[1][0]*right + p.R[1][1]*up + p.T[1]
	z := p.R[2][0]*right + p.R[2][1]*up + p.T[2]
	if z <= 0 {
		return conic.Point{X: math.NaN(), Y: math.NaN()}
	}
	u, v := c.Focal*x/z, c.Focal*y/z
	if c.K1 == 0 {
		return conic.Point{X: c.X + u, Y: c.Y + v}
	}
	s := c.distortionScale(math.Sqrt(u*u + v*v)) // not Hypot: these are pixels, and this runs a million times a photo
	return conic.Point{X: c.X + s*u, Y: c.Y + s*v}
}

// distortionScale is distorted over undistorted distance from the principal
// point. K1 is defined from the distorted distance to the undistorted one, which
// Plane needs often and in closed form; the other way is the root d of
//
//	g(d) = d (1 + K1 d²) - target,  in half diagonals
//
// by Newton's method, d - g(d)/g'(d) with g' = 1 + 3 K1 d², from d = target.
func (c Camera) distortionScale(undistorted float64) float64 {
	if undistorted == 0 {
		return 1
	}
	target := undistorted / c.HalfDiagonal
	d := target
	for range 5 { // two steps as a rule: quadratic, and the start is near
		step := (d*(1+c.K1*d*d) - target) / (1 + 3*c.K1*d*d)
		d -= step
		if math.Abs(step) < 1e-6 { // the next would be its square
			break
		}
	}
	return d / target
}

// Plane maps a pixel to the place on the target plane that it shows (right,
// up, mm). The pixel, taken through the lens's definition to its undistorted place,
// is a ray k (u, v, 1) from the camera; with n the way the target faces it meets the
// plane n·(q - T) = 0 at k = n·T / n·ray, and what is left of q - T along the target's
// own axes is right and up. A ray along the plane gives infinities or NaN.
func (c Camera) Plane(p Pose, px conic.Point) (right, up float64) {
	u, v := px.X-c.X, px.Y-c.Y
	s := 1 + c.K1*(u*u+v*v)/(c.HalfDiagonal*c.HalfDiagonal)
	ray := [3]float64{u * s / c.Focal, v * s / c.Focal, 1}
	// Intersect the ray with the plane n·(q - T) = 0, then read off right and up.
	var nr, nt float64
	for i := range 3 {
		nr += p.R[i][2] * ray[i]
		nt += p.R[i][2] * p.T[i]
	}
	k := nt / nr
	for i := range 3 {
		d := k*ray[i] - p.T[i]
		right += p.R[i][0] * d
		up += p.R[i][1] * d
	}
	return right, up
}

// Tilt is the angle in radians between the target's Apart direction n and the
// ray from its centre to the camera, acos(-n·T/|T|): 0 when the phone looks at the
// target squarely.
func (p Pose) Tilt() float64 {
	d := math.Sqrt(p.T[0]*p.T[0] + p.T[1]*p.T[1] + p.T[2]*p.T[2])
	var dot float64
	for i := range 3 {
		dot -= p.R[i][2] * p.T[i]
	}
	return math.Acos(max(-1, min(1, dot/d)))
}

// AxisTilt is the angle in radians between the target's Apart direction and
// the lens's axis: how far the phone itself is held askew.
func (p Pose) AxisTilt() float64 { return math.Acos(max(-1, min(1, -p.R[2][2]))) }

// Turned is the pose with the target's own axes turned by angle (radians,
// counter-clockwise as one faces the target): its new right is cos(angle) times the
// old one plus sin(angle) times the old up.
func (p Pose) Turned(angle float64) Pose {
	s, c := math.Sincos(angle)
	q := p
	for i := range 3 {
		q.R[i][0] = c*p.R[i][0] + s*p.R[i][1]
		q.R[i][1] = -s*p.R[i][0] + c*p.R[i][1]
	}
	return q
}

// Scaled is the pose with the plane's unit changed: what was length 1 is now
// length k.
func (p Pose) Scaled(k float64) Pose {
	for i := range p.T {
		p.T[i] *= k
	}
	return p
}

// Rotated turns the pose about its own axes by the rotation vector w, whose length
// is the angle (rad) and whose direction k the axis: R exp([w]×), with Rodrigues'
// formula for the matrix of the turn,
//
//	cos θ 1 + (1 - cos θ) k kᵀ + sin θ [k]×
func (p Pose) Rotated(w [3]float64) Pose {
	angle := math.Sqrt(w[0]*w[0] + w[1]*w[1] + w[2]*w[2])
	if angle == 0 {
		return p
	}
	k := [3]float64{w[0] / angle, w[1] / angle, w[2] / angle}
	s, c := math.Sincos(angle)
	turn := [3][3]float64{
		{c + k[0]*k[0]*(1-c), k[0]*k[1]*(1-c) - k[2]*s, k[0]*k[2]*(1-c) + k[1]*s},
		{k[1]*k[0]*(1-c) + k[2]*s, c + k[1]*k[1]*(1-c), k[1]*k[2]*(1-c) - k[0]*s},
		{k[2]*k[0]*(1-c) - k[1]*s, k[2]*k[1]*(1-c) + k[0]*s, c + k[2]*k[2]*(1-c)},
	}
	q := Pose{T: p.T}
	for i := range 3 {
		for j := range 3 {
			for l := range 3 {
				q.R[i][j] += p.R[i][l] * turn[l][j]
			}
		}
	}
	return q
}

// NewPose builds a pose from the Apart direction (unit normal towards the
// camera) and the centre, with the target's up as near the picture's up as the
// tilt allows.
func NewPose(normal, centre [3]float64) Pose {
	up := [3]float64{0, -1, 0}
	dot := -normal[1]
	for i := range 3 {
		up[i] -= dot * normal[i]
	}
	n := math.Sqrt(up[0]*up[0] + up[1]*up[1] + up[2]*up[2])
	for i := range 3 {
		up[i] /= n
	}
	right := [3]float64{ // up × Apart
		up[1]*normal[2] - up[2]*normal[1],
		up[2]*normal[0] - up[0]*normal[2],
		up[0]*normal[1] - up[1]*normal[0],
	}
	var p Pose
	for i := range 3 {
		p.R[i] = [3]float64{right[i], up[i], normal[i]}
	}
	p.T = centre
	return p
}

// AngleTo is the angle between two poses' Apart directions.
func (p Pose) AngleTo(q Pose) float64 {
	var dot float64
	for i := range 3 {
		dot += p.R[i][2] * q.R[i][2]
	}
	return math.Acos(max(-1, min(1, dot)))
}
