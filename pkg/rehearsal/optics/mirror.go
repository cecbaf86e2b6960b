package optics

// Ray starts at a place and goes along a unit vector.
type Ray struct{ From, Along Vec }

// Plane is all points p with (p - Through)·Normal = 0; Normal is a unit vector.
type Plane struct{ Through, Normal Vec }

// PlaneThrough lays a plane through three points that are not in a line. Its
// normal points to the side of the vector toward.
func PlaneThrough(points [3]Vec, toward Vec) Plane {
	n := points[1].Minus(points[0]).Cross(points[2].Minus(points[0])).Unit()
	if n.Dot(toward) < 0 {
		n = n.Times(-1)
	}
	return Plane{Through: points[0], Normal: n}
}

// Meet gives where the ray p + w d comes to the front of the plane, the side to which
// the normal points: w = (Through - p)·n / d·n, with d·n < 0 and w > 0. A ray from behind, along the plane, or away from it does not.
func (r Ray) Meet(p Plane) (Vec, bool) {
	toward := r.Along.Dot(p.Normal)
	if !(toward < 0) {
		return Vec{}, false
	}
	way := p.Through.Minus(r.From).Dot(p.Normal) / toward
	if !(way > 0) {
		return Vec{}, false
	}
	return r.From.Plus(r.Along.Times(way)), true
}

// Reflect is the law of reflection in vector form: d - 2(d·n)n for the unit
// normal n. In the plane of d and n, at the same angle on the other side.
func Reflect(d, n Vec) Vec { return d.Minus(n.Times(2 * d.Dot(n))) }

// Reflected is the ray from where it meets the plane on. It is false, and the
// zero ray, which meets nothing, when it does not.
func (r Ray) Reflected(p Plane) (Ray, bool) {
	at, ok := r.Meet(p)
	if !ok {
		return Ray{}, false
	}
	return Ray{From: at, Along: Reflect(r.Along, p.Normal)}, true
}

// beforeMM is how far before the plane the ray of Before begins.
const beforeMM = 100

// Before is the ray that the plane reflects into the line of r, wherever on that
// line r starts. The line must come out of the front of the plane; otherwise the zero ray
// comes back, which meets nothing. Reflection undoes itself, so the direction before is
// Reflect(d, n), and the ray goes through the place where the line meets the plane.
func (r Ray) Before(p Plane) Ray {
	out := r.Along.Dot(p.Normal)
	if !(out > 0) {
		return Ray{}
	}
	at := r.From.Plus(r.Along.Times(p.Through.Minus(r.From).Dot(p.Normal) / out))
	along := Reflect(r.Along, p.Normal)
	return Ray{From: at.Minus(along.Times(beforeMM)), Along: along}
}

// Mount holds a mirror's plate on three screw points. Right, Up and Normal are
// unit vectors square to each other; Right and Up are as seen from behind.
type Mount struct {
	Middle            Vec // of the mirror's surface when no screw has moved
	Right, Up, Normal Vec
	Points            [3][2]float64 // right and up of Middle, mm
	Clear             float64       // diameter that reflects, mm
}

// Mirror is a mount's plate with its screws at a place.
type Mirror struct {
	Plane  Plane
	Middle Vec
	Clear  float64 // mm
}

// Set moves the plate at each of its points along the mount's normal, mm. The
// plate's plane goes through the three points as they then are.
func (m Mount) Set(advance [3]float64) Mirror {
	var points [3]Vec
	for i, p := range m.Points {
		points[i] = m.Middle.Plus(m.Right.Times(p[0])).Plus(m.Up.Times(p[1])).Plus(m.Normal.Times(advance[i]))
	}
	plane := PlaneThrough(points, m.Normal)
	// The middle stays on the mount's axis.
	along := plane.Through.Minus(m.Middle).Dot(plane.Normal) / m.Normal.Dot(plane.Normal)
	return Mirror{Plane: plane, Middle: m.Middle.Plus(m.Normal.Times(along)), Clear: m.Clear}
}
