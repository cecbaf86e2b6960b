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

// Rotation is the R of a camera held so: first the target is turned in the picture by
// the roll, then tilted about an axis that lies in the picture,
//
//	R = A(TowardDeg, TiltDeg) · | cos roll   sin roll   0 |
//	                            | sin roll  -cos roll   0 |
//	                            |     0         0      -1 |
//
// Facing the target, its up is the picture's -y and its normal points at the camera: the
// minus signs. Roll 0 without tilt has the target's top at the picture's top.
func (p Pose) Rotation() [3][3]float64 {
	c, s := cosSin(p.RollDeg)
	roll := [3][3]float64{{c, s, 0}, {s, -c, 0}, {0, 0, -1}}
	return product(axisTurn(p.TowardDeg, p.TiltDeg), roll)
}

// axisTurn is the rotation A by tilt about the axis k = (cos toward, sin toward, 0), by
// the right-hand rule. Rodrigues' formula, A = cos t · I + (1 - cos t) k kᵗ + sin t [k]×,
// with the third component of k left out.
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

// product is the matrix product a b.
func product(a, b [3][3]float64) (m [3][3]float64) {
	for i := range 3 {
		for j := range 3 {
			m[i][j] = a[i][0]*b[0][j] + a[i][1]*b[1][j] + a[i][2]*b[2][j]
		}
	}
	return m
}

// FocalFrom35 turns a 35 mm equivalent focal length in mm into pixels by the
// picture's diagonal: a lens of f mm before a frame of 36 x 24 mm, whose diagonal is
// 43.2666 mm, sees the same angle, so that f_px = f · √(W² + H²) / 43.2666 (guideline
// CIPA DCG-001, which takes the diagonal and not the width).
func FocalFrom35(mm float64, width, height int) float64 {
	return mm * math.Hypot(float64(width), float64(height)) / math.Hypot(36, 24)
}

// Aim sets R and T so that the target's origin is seen at the pixel (x, y), distance mm
// deep along the optical axis. The pixel's line of sight is (nx, ny, 1) once the lens is
// undone, and T lies on it: T = distance · (nx, ny, 1). Middle, FocalPX, K1 and K2 must
// be set before.
func (c *Camera) Aim(pose Pose, x, y, distance float64) {
	c.R = pose.Rotation()
	nx, ny := c.undistort((x-c.Middle[0])/c.FocalPX, (y-c.Middle[1])/c.FocalPX)
	c.T = [3]float64{nx * distance, ny * distance, distance}
}

// Project gives the pixel at which a target point is seen, by the formulas of Camera: into
// the camera's frame, through the pinhole, through the lens, onto the sensor. A point behind
// the camera gives NaN.
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
// tilt's axis, f/Z with Z the depth, the lens left out. Across that axis it is smaller by
// the cosine of the tilt.
func (c *Camera) PxPerMM() float64 { return c.FocalPX / c.T[2] }

// ViewDeg is the angle in degrees between the target's normal and the line of
// sight to its origin, acos(-n·T/|T|) with n, the third column of R, the normal in the
// camera's frame. Off the picture's middle it differs from the tilt.
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

// inverse gives the factor r/rd for a distorted squared radius rd², where
//
//	rd = g(r) = r (1 + k1 r² + k2 r⁴),   g'(r) = 1 + 3 k1 r² + 5 k2 r⁴.
//
// Newton's step is (g(r) - rd) / g'(r), begun at r = rd; the digits double with each. The
// lens must be rising over the picture: a barrel so strong that it folds back (g' = 0)
// never converges.
func (c *Camera) inverse(rd2 float64) float64 {
	rd := math.Sqrt(rd2)
	if rd == 0 {
		return 1
	}
	r := rd
	for range newtonSteps {
		r2 := r * r
		d := (r*(1+r2*(c.K1+r2*c.K2)) - rd) / (1 + r2*(3*c.K1+5*r2*c.K2))
		r -= d
		if math.Abs(d) < newtonEnd {
			break
		}
	}
	return r / rd
}

// Newton's method ends when a step is below the rounding of r, which is at most about 1.
// Four or five steps do it; the bound is for lenses that fold back.
const (
	newtonSteps = 30
	newtonEnd   = 1e-15
)

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

// newView tabulates the lens and finds where the camera stands in the target's frame:
// the point c that p = R c + T sends to the origin, c = -Rᵗ T.
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

// at casts the ray through a place of the picture, in pixels. With the lens undone the
// direction is q = (nx, ny, 1) in the camera's frame, and Rᵗ q in the target's.
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

// grazing is the least slope, per unit of depth, at which a ray is taken to meet the
// plane: below it the place lies farther away than any scene is wide.
const grazing = 1e-6

// meet gives where the ray crosses the plane at a height, in mm right and up: z + k dz =
// height gives k. The camera looks down on the plane, dz < 0.
func (r ray) meet(height float64) (right, up float64) {
	if r.dz > -grazing {
		return horizon, horizon
	}
	k := (height - r.z) / r.dz
	return r.x + k*r.dx, r.y + k*r.dy
}

// Unproject gives the point of the plane at a height (mm above the rings) that is seen at a pixel.
func (c *Camera) Unproject(x, y, height float64) (right, up float64) {
	return newView(c).at(x, y).meet(height)
}

// places round a ring that Holds looks at: one every 5 degrees, between which a ring seen
// in perspective bulges by less than 1 - cos 2.5° = 0.1 % of its radius.
const holdsPlaces = 72

// barRoom is left above the index bar, mm.
const barRoom = 0.3

// Holds reports whether all rings and the index bar lie in the picture, room px from its border.
func (c *Camera) Holds(spec target.Spec, room float64) bool {
	in := func(right, up float64) bool {
		x, y := c.Project(right, up, 0)
		return x > room && y > room && x < float64(c.Width-1)-room && y < float64(c.Height-1)-room
	}
	r := spec.OuterRadius() + spec.LineMM
	for i := range holdsPlaces {
		s, cs := math.Sincos(2 * math.Pi * float64(i) / holdsPlaces)
		if !in(r*cs, r*s) {
			return false
		}
	}
	top := spec.OuterRadius() + spec.Index.ToMM + barRoom
	return in(-spec.Index.WidthMM, top) && in(spec.Index.WidthMM, top)
}

// Field is the length in mm that the picture's short side spans at the target's distance.
func (c *Camera) Field() float64 { return float64(min(c.Width, c.Height)) / c.PxPerMM() }
