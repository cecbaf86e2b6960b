package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/lens"
)

// Pixel maps a place on the target (right, up, mm) to the upright photo.
func (f *Fit) Pixel(right, up float64) conic.Point { return f.Camera.Project(f.Pose, right, up) }

// At maps a pixel to the target (right, up, mm) at a height above the rings'
// plane (mm, towards the camera): the tape's surface.
func (f *Fit) At(px conic.Point, height float64) (right, up float64) {
	lifted := f.Pose
	for i := range 3 {
		lifted.T[i] += height * f.Pose.R[i][2]
	}
	return f.Camera.Plane(lifted, px)
}

// PxPerMM is the photo's scale at the rings' centre: the geometric mean over
// directions.
func (f *Fit) PxPerMM() float64 {
	const d = 0.05 // mm
	a, b := f.Camera.Project(f.Pose, d, 0), f.Camera.Project(f.Pose, -d, 0)
	c, e := f.Camera.Project(f.Pose, 0, d), f.Camera.Project(f.Pose, 0, -d)
	det := (a.X-b.X)*(c.Y-e.Y) - (a.Y-b.Y)*(c.X-e.X)
	return math.Sqrt(math.Abs(det)) / (2 * d)
}

// Surface is a plane that lies over the rings' plane, as the camera sees it.
type Surface struct {
	camera lens.Camera
	pose   lens.Pose
}

// Tape is the tape's surface.
func (f *Fit) Tape() Surface {
	lifted := f.Pose
	for i := range 3 {
		lifted.T[i] += f.Spec.TapeMM * f.Pose.R[i][2]
	}
	return Surface{f.Camera, lifted}
}

// Pixel maps a place on the surface (right, up, mm) to the photo.
func (s Surface) Pixel(right, up float64) conic.Point {
	return s.camera.Project(s.pose, right, up)
}

// Raised maps a place on the tape's surface (right, up, mm) to the photo.
func (f *Fit) Raised(right, up float64) conic.Point { return f.Tape().Pixel(right, up) }
