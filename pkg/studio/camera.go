package studio

import (
	"math"

	"burngauge.dev/burngauge/pkg/target"
)

// Camera is a pinhole camera with a radial lens, looking at the target.
//
// A point (right, up, height) mm of the target, height counted from the ring
// plane towards the viewer, lies at p = R·(right, up, height) + T in the
// camera's frame (x right, y down, z forward, mm). With x = px/pz, y = py/pz and
// r² = x²+y² it is seen at FocalPX·(x, y)·(1 + K1·r² + K2·r⁴) + Middle.
// Pixel (0, 0) is the CENTRE of the top left pixel, the picture upright.
type Camera struct {
	Width, Height int           // px, upright
	FocalPX       float64       // px
	Middle        [2]float64    // principal point, px
	K1, K2        float64       // radial distortion, as in OpenCV's first two coefficients
	R             [3][3]float64 // rotation
	T             [3]float64    // mm
}

// Pose says how the camera is held. All angles in degrees.
type Pose struct {
	TiltDeg   float64 // between the target's normal and the optical axis, 0..90
	TowardDeg float64 // direction of the tilt's axis in the picture, counted from x to y
	RollDeg   float64 // turn of the target in the picture before tilting, clockwise as seen
}

// Rotation is the R of a camera held so. Roll 0 without tilt has the target's top at the picture's top.
func (p Pose) Rotation() [3][3]float64 {
	c, s := cosSin(p.RollDeg)
	// Facing the target, its up is the picture's -y and its normal points at the camera.
	roll := [3][3]float64{{c, s, 0}, {s, -c, 0}, {0, 0, -1}}
	return product(axisTurn(p.TowardDeg, p.TiltDeg), roll)
}

// axisTurn is the rotation by tilt about the axis (cos toward, sin toward, 0).
func axisTurn(towardDeg, tiltDeg float64) [3][3]float64 {
	x, y := cosSin(towardDeg)
	c, s := cosSin(tiltDeg)
	v := 1 - c
	return [3][3]float64{
		{c + x*x*v, x * y * v, y * s},
		{x * y * v, c + y*y*v, -x * s},
		{-y * s, x * s, c},
	}
}

func product(a, b [3][3]float64) (m [3][3]float64) {
	for i := range 3 {
		for j := range 3 {
			m[i][j] = a[i][0]*b[0][j] + a[i][1]*b[1][j] + a[i][2]*b[2][j]
		}
	}
	return m
}

// FocalFrom35 turns a 35 mm equivalent focal length in mm into pixels by the
// picture's diagonal, 36x24 mm having 43.2666 mm (guideline CIPA DCG-001).
func FocalFrom35(mm float64, width, height int) float64 {
	return mm * math.Hypot(float64(width), float64(height)) / math.Hypot(36, 24)
}

// Aim sets R and T so that the target's origin is seen at the pixel (x, y), distance mm deep along the optical axis.
func (c *Camera) Aim(pose Pose, x, y, distance float64) {
	c.R = pose.Rotation()
	nx, ny := c.undistort((x-c.Middle[0])/c.FocalPX, (y-c.Middle[1])/c.FocalPX)
	c.T = [3]float64{nx * distance, ny * distance, distance}
}

// Project gives the pixel at which a target point is seen. A point behind the camera gives NaN.
func (c *Camera) Project(right, up, height float64) (x, y float64) {
	p := c.T
	for i := range 3 {
		p[i] += c.R[i][0]*right + c.R[i][1]*up + c.R[i][2]*height
	}
	if p[2] <= 0 {
		return math.NaN(), math.NaN()
	}
	nx, ny := p[0]/p[2], p[1]/p[2]
	r2 := nx*nx + ny*ny
	k := 1 + r2*(c.K1+r2*c.K2)
	return c.FocalPX*nx*k + c.Middle[0], c.FocalPX*ny*k + c.Middle[1]
}

// PxPerMM is the scale at the target's origin: pixels per millimetre along the
// tilt's axis, FocalPX over depth, the lens left out.
func (c *Camera) PxPerMM() float64 { return c.FocalPX / c.T[2] }

// ViewDeg is the angle in degrees between the target's normal and the line of
// sight to its origin. Off the picture's middle it differs from the tilt.
func (c *Camera) ViewDeg() float64 {
	dot := -(c.R[0][2]*c.T[0] + c.R[1][2]*c.T[1] + c.R[2][2]*c.T[2])
	length := math.Sqrt(c.T[0]*c.T[0] + c.T[1]*c.T[1] + c.T[2]*c.T[2])
	return math.Acos(min(max(dot/length, -1), 1)) * 180 / math.Pi
}

// undistort inverts the radial lens for one normalised point by Newton's method on the radius.
func (c *Camera) undistort(xd, yd float64) (x, y float64) {
	k := c.inverse(xd*xd + yd*yd)
	return xd * k, yd * k
}

// inverse gives the factor r/rd for a distorted squared radius rd². The lens
// must be rising over the picture: a barrel so strong that it folds back never converges.
func (c *Camera) inverse(rd2 float64) float64 {
	rd := math.Sqrt(rd2)
	if rd == 0 {
		return 1
	}
	r := rd
	for range 30 {
		r2 := r * r
		d := (r*(1+r2*(c.K1+r2*c.K2)) - rd) / (1 + r2*(3*c.K1+5*r2*c.K2))
		r -= d
		if math.Abs(d) < 1e-15 {
			break
		}
	}
	return r / rd
}

// tableSize keeps the table's linear interpolation under 1e-5 px: with |k1| = 0.1 its
// second derivative in rd² is below 0.1, its error (2/8192)²/8·0.1 of the radius.
const tableSize = 8192

// view is a camera made ready for casting many rays.
type view struct {
	cam    *Camera
	table  []float64 // inverse(rd²) at rd² = i/scale
	scale  float64
	centre [3]float64 // the camera in the target's frame, mm
}

func newView(cam *Camera) *view {
	v := &view{cam: cam}
	far := math.Hypot(float64(cam.Width), float64(cam.Height)) / cam.FocalPX
	v.scale = tableSize / (far*far + 1e-9)
	v.table = make([]float64, tableSize+2)
	for i := range v.table {
		v.table[i] = cam.inverse(float64(i) / v.scale)
	}
	for j := range 3 {
		v.centre[j] = -(cam.R[0][j]*cam.T[0] + cam.R[1][j]*cam.T[1] + cam.R[2][j]*cam.T[2])
	}
	return v
}

// ray is a line of sight in the target's frame, from the camera at (x, y, z).
type ray struct{ x, y, z, dx, dy, dz float64 }

// at casts the ray through a place of the picture, in pixels.
func (v *view) at(x, y float64) ray {
	xd, yd := (x-v.cam.Middle[0])/v.cam.FocalPX, (y-v.cam.Middle[1])/v.cam.FocalPX
	f := (xd*xd + yd*yd) * v.scale
	i := min(int(f), tableSize)
	k := v.table[i] + (v.table[i+1]-v.table[i])*(f-float64(i))
	nx, ny := xd*k, yd*k
	r := &v.cam.R
	return ray{
		v.centre[0], v.centre[1], v.centre[2],
		r[0][0]*nx + r[1][0]*ny + r[2][0],
		r[0][1]*nx + r[1][1]*ny + r[2][1],
		r[0][2]*nx + r[1][2]*ny + r[2][2],
	}
}

// horizon is how far out a ray that never meets the plane is taken to go, mm.
const horizon = 1e4

// meet gives where the ray crosses the plane at a height, in mm right and up.
func (r ray) meet(height float64) (right, up float64) {
	if r.dz > -1e-6 {
		return horizon, horizon
	}
	k := (height - r.z) / r.dz
	return r.x + k*r.dx, r.y + k*r.dy
}

// Unproject gives the point of the plane at a height (mm above the rings) that is seen at a pixel.
func (c *Camera) Unproject(x, y, height float64) (right, up float64) {
	return newView(c).at(x, y).meet(height)
}

// Holds tells whether all rings and the index bar lie in the picture, room px from its border.
func (c *Camera) Holds(spec target.Spec, room float64) bool {
	in := func(right, up float64) bool {
		x, y := c.Project(right, up, 0)
		return x > room && y > room && x < float64(c.Width-1)-room && y < float64(c.Height-1)-room
	}
	r := spec.OuterRadius() + spec.LineMM
	for i := range 72 {
		s, cs := math.Sincos(2 * math.Pi * float64(i) / 72)
		if !in(r*cs, r*s) {
			return false
		}
	}
	top := spec.OuterRadius() + spec.Index.ToMM + 0.3
	return in(-spec.Index.WidthMM, top) && in(spec.Index.WidthMM, top)
}

// Field is the length in mm that the picture's short side spans at the target's distance.
func (c *Camera) Field() float64 { return float64(min(c.Width, c.Height)) / c.PxPerMM() }
