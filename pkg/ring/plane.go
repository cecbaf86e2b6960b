package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/lens"
	"burngauge.dev/burngauge/pkg/target"
)

// Plane is the target's plane as one camera sees it. Places on the target are
// (right, up) of the rings' common centre as one faces the target, mm; pixels are
// those of the upright photo, whole numbers at their middles.
type Plane struct {
	Spec   target.Spec
	Camera lens.Camera
	Pose   lens.Pose // mm
}

// Pixel maps a place on the target (right, up, mm) to the upright photo; NaN for a
// place behind the camera.
func (p *Plane) Pixel(right, up float64) conic.Point { return p.Camera.Project(p.Pose, right, up) }

// At maps a pixel to the target (right, up, mm) at a height above the rings'
// plane (mm, towards the camera): the tape's surface.
func (p *Plane) At(px conic.Point, height float64) (right, up float64) {
	return p.Camera.Plane(p.lifted(height), px)
}

// lifted is the pose of a surface so many mm above the rings' plane. The third
// column of R is the direction in which the target faces.
func (p *Plane) lifted(height float64) lens.Pose {
	lifted := p.Pose
	for i := range 3 {
		lifted.T[i] += height * p.Pose.R[i][2]
	}
	return lifted
}

// PxPerMM is the photo's scale at the rings' centre: the geometric mean over
// directions, which is the root of the area that 1 mm² has in the photo. The area is
// the determinant of the derivative, here by central differences.
func (p *Plane) PxPerMM() float64 {
	const d = 0.05 // mm, a small part of any ring: the derivative's error goes with its square
	a, b := p.Pixel(d, 0), p.Pixel(-d, 0)
	c, e := p.Pixel(0, d), p.Pixel(0, -d)
	det := (a.X-b.X)*(c.Y-e.Y) - (a.Y-b.Y)*(c.X-e.X)
	return math.Sqrt(math.Abs(det)) / (2 * d)
}

// Surface is a plane that lies over the rings' plane, as the camera sees it.
type Surface struct {
	camera lens.Camera
	pose   lens.Pose
}

// Tape is the tape's surface. What is seen on it under the angle t lies h tan(t)
// aside of where the rings' plane has it, for a tape of thickness h.
func (p *Plane) Tape() Surface { return Surface{p.Camera, p.lifted(p.Spec.TapeMM)} }

// Pixel maps a place on the surface (right, up, mm) to the photo.
func (s Surface) Pixel(right, up float64) conic.Point {
	return s.camera.Project(s.pose, right, up)
}

// Raised maps a place on the tape's surface (right, up, mm) to the photo.
func (p *Plane) Raised(right, up float64) conic.Point { return p.Tape().Pixel(right, up) }

// Roll is the angle in radians from the photo's up to the target's up, counter-
// clockwise as the photo is seen.
func (p *Plane) Roll() float64 {
	a, b := p.Pixel(0, 0), p.Pixel(0, 0.1) // a tenth of a millimetre gives the direction
	return math.Atan2(-(b.X - a.X), -(b.Y - a.Y))
}

// LevelRoll turns the target's up to the photo's. Seen at a tilt, a turn of the
// target is not the same turn in the photo: the step is repeated, and each leaves
// a small part of what the one before it left.
func (p *Plane) LevelRoll() {
	for range 20 {
		roll := p.Roll()
		p.Pose = p.Pose.Turned(-roll)
		if math.Abs(roll) < 1e-9 { // rad: rounding of the pixels that it is read from
			return
		}
	}
}

// extent is the radius in mm of everything on the target that is looked at.
func (p *Plane) extent() float64 {
	return max(p.Spec.OuterRadius()+p.Spec.Index.ToMM, p.Spec.RimMM/2)
}

// gap is the smallest distance in mm between neighbouring rings, or from the
// centre to the first.
func (p *Plane) gap() float64 {
	gap, last := math.Inf(1), 0.0
	for _, d := range p.Spec.RingsMM {
		gap, last = min(gap, (d-last)/2), d
	}
	return gap
}

// barEnds are the distances from the centre to the bar's inner and outer end, mm.
func (p *Plane) barEnds() (from, to float64) {
	outer := p.Spec.OuterRadius()
	return outer + p.Spec.Index.FromMM, outer + p.Spec.Index.ToMM
}

// RingAt is the number of the spec's ring within so many mm of a radius, -1 when
// there is none.
func (p *Plane) RingAt(radius, within float64) int {
	for k, d := range p.Spec.RingsMM {
		if math.Abs(d/2-radius) < within {
			return k
		}
	}
	return -1
}

// outerEllipse is the image of the outer circle that a camera gives at the plane's
// pose. Through a lens that bends it is an ellipse only nearly: it is fitted.
func (p *Plane) outerEllipse(camera lens.Camera) (conic.Ellipse, error) {
	const n = 60 // an ellipse has five parameters; more points change nothing
	points := make([]conic.Point, n)
	for i := range points {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		points[i] = camera.Project(p.Pose, c*p.Spec.OuterRadius(), s*p.Spec.OuterRadius())
	}
	return conic.FitDirect(points)
}

// circlePoses are the two poses in which the outer circle gives this ellipse before
// a camera without distortion; none for an ellipse that no circle gives.
func (p *Plane) circlePoses(el conic.Ellipse, camera lens.Camera) []lens.Pose {
	poses, err := conic.CirclePoses(el, camera.Focal, conic.Point{X: camera.X, Y: camera.Y}, p.Spec.OuterRadius())
	if err != nil {
		return nil
	}
	var out []lens.Pose
	for _, pose := range poses {
		out = append(out, lens.NewPose(pose.Normal, pose.Centre))
	}
	return out
}
