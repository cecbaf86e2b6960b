package conic

import "math"

// What the tests hold the package against, worked out another way; nothing
// here is part of the program.

// view is a pinhole camera with square pixels before a plane: focal length and
// principal point in px, u and v the plane's unit directions and centre its
// origin in the camera's frame.
type view struct {
	focal     float64
	principal Point
	u, v      [3]float64
	centre    [3]float64
}

// project is the image of the plane's point (x, y).
func (w view) project(x, y float64) Point {
	at := plus(w.centre, plus(scaled(w.u, x), scaled(w.v, y)))
	return Point{w.principal.X + w.focal*at[0]/at[2], w.principal.Y + w.focal*at[1]/at[2]}
}

// circle is the images of n points of the circle of radius r round the origin.
func (w view) circle(r float64, n int) []Point {
	points := make([]Point, n)
	for i := range points {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		points[i] = w.project(r*c, r*s)
	}
	return points
}

// through sends the ray of an image point to the plane of a pose and gives
// where it meets it.
func (w view) through(p Point, pose Pose) [3]float64 {
	ray := [3]float64{(p.X - w.principal.X) / w.focal, (p.Y - w.principal.Y) / w.focal, 1}
	return scaled(ray, dot(pose.Normal, pose.Centre)/dot(pose.Normal, ray))
}

// seen is where the pose's centre is seen.
func (w view) seen(pose Pose) Point {
	c := pose.Centre
	return Point{w.principal.X + w.focal*c[0]/c[2], w.principal.Y + w.focal*c[1]/c[2]}
}

// facing is a plane at a centre with this normal (of any length and sign),
// turned about it in one of the many ways.
func facing(focal float64, principal Point, normal, centre [3]float64) view {
	n := unit(normal)
	u := unit(cross([3]float64{0, 1, 0}, n))
	return view{focal, principal, u, cross(n, u), centre}
}

// tilted is the view of the closed form: a plane at depth d on the optical
// axis, tilted by tau about the picture's x axis, so that (X, Y) is seen at
// f (X, Y cos tau) / (d + Y sin tau).
func tilted(f, d, tau float64) view {
	s, c := math.Sincos(tau)
	return view{f, Point{}, [3]float64{1, 0, 0}, [3]float64{0, c, s}, [3]float64{0, 0, d}}
}

// tilt is the angle between a pose's normal and the optical axis.
func tilt(p Pose) float64 { return math.Acos(min(1, -p.Normal[2])) }

// distance is the least distance from p to the ellipse, by a plain search over
// 2000 places and then by thirds.
func distance(e Ellipse, p Point) float64 {
	at := func(t float64) float64 { q := e.At(t); return math.Hypot(p.X-q.X, p.Y-q.Y) }
	const n = 2000
	best := 0.0
	for i := range n {
		if t := 2 * math.Pi * float64(i) / n; at(t) < at(best) {
			best = t
		}
	}
	low, high := best-2*math.Pi/n, best+2*math.Pi/n
	for range 80 {
		third := (high - low) / 3
		if at(low+third) < at(high-third) {
			high -= third
		} else {
			low += third
		}
	}
	return at((low + high) / 2)
}

// misfit is the root of the sum of squared distances.
func misfit(points []Point, e Ellipse) float64 {
	var sum float64
	for _, p := range points {
		sum += distance(e, p) * distance(e, p)
	}
	return math.Sqrt(sum)
}
