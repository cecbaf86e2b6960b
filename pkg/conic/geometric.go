package conic

import (
	"fmt"
	"math"
	"slices"
)

// Circle is told by its centre and radius.
type Circle struct{ X, Y, R float64 }

// Ellipse is the circle as an ellipse.
func (c Circle) Ellipse() Ellipse { return Ellipse{X: c.X, Y: c.Y, A: c.R, B: c.R} }

// Distance is the distance from p to the circle, negative inside.
func (c Circle) Distance(p Point) float64 { return math.Hypot(p.X-c.X, p.Y-c.Y) - c.R }

// Least arcs that a geometric fit accepts, radians of the curve's own angle.
// With N points and the noise s square to the curve an ellipse fitted to an
// arc of a circle has a semi-axis uncertain by 270 s/√N at 90 degrees, 1400 at
// 60 and 22000 at 30; a circle's radius by 10 s/√N at 90, 97 at 30 and 220 at
// 20 degrees (inverse of the mean normal matrix, computed with numpy). Below
// these a fit reports the noise, and often runs away to a parabola or a line.
const (
	leastEllipseArc = 60 * math.Pi / 180
	leastCircleArc  = 20 * math.Pi / 180
)

// FitGeometric minimises the sum of squared distances from the points to the
// ellipse, from start (for instance FitDirect's). With independent noise of
// equal size in all points that is the likeliest ellipse.
//
// Errors: ErrTooFewPoints below five points; ErrShortArc where the points,
// seen from the fitted ellipse, cover less than 60 degrees or the ellipse
// flees to a line or parabola; ErrNotConverged.
func FitGeometric(points []Point, start Ellipse) (Ellipse, error) {
	if len(points) < 5 {
		return Ellipse{}, fmt.Errorf("ellipse through %d points: %w", len(points), ErrTooFewPoints)
	}
	m, size := frame(points)
	if !(size > 0) || !(start.B > 0) || math.IsInf(start.A, 1) {
		return Ellipse{}, fmt.Errorf("ellipse fit from %v: %w", start, ErrDegenerate)
	}
	fit := ellipses{local(points, m, size)}
	p := parameters(Ellipse{(start.X - m.X) / size, (start.Y - m.Y) / size, start.A / size, start.B / size, start.Theta})
	err := descend(fit, p)
	e := fit.ellipse(p)
	if sweep(fit.angles(e)) < leastEllipseArc {
		err = ErrShortArc // also while still on its way to a parabola
	}
	if err != nil {
		return Ellipse{}, fmt.Errorf("geometric ellipse: %w", err)
	}
	return Ellipse{m.X + size*e.X, m.Y + size*e.Y, size * e.A, size * e.B, e.Theta}, nil
}

// FitCircle minimises the sum of squared distances from the points to the
// circle.
//
// Errors: ErrTooFewPoints below three points; ErrDegenerate for points on a
// line; ErrShortArc where they cover less than 20 degrees; ErrNotConverged.
func FitCircle(points []Point) (Circle, error) {
	if len(points) < 3 {
		return Circle{}, fmt.Errorf("circle through %d points: %w", len(points), ErrTooFewPoints)
	}
	m, size := frame(points)
	near := local(points, m, size)
	start, err := kasa(near)
	if err != nil {
		return Circle{}, fmt.Errorf("circle: %w", err)
	}
	p := []float64{start.X, start.Y, start.R}
	if err := descend(circles{near}, p); err != nil {
		return Circle{}, fmt.Errorf("geometric circle: %w", err)
	}
	var angles []float64
	for _, q := range near {
		angles = append(angles, math.Atan2(q.Y-p[1], q.X-p[0]))
	}
	if sweep(angles) < leastCircleArc {
		return Circle{}, fmt.Errorf("geometric circle: %w", ErrShortArc)
	}
	return Circle{m.X + size*p[0], m.Y + size*p[1], size * p[2]}, nil
}

// frame is the points' middle and their root mean square distance from it.
func frame(points []Point) (m Point, size float64) {
	m = mean(points)
	for _, p := range points {
		size += (p.X-m.X)*(p.X-m.X) + (p.Y-m.Y)*(p.Y-m.Y)
	}
	return m, math.Sqrt(size / float64(len(points)))
}

// local moves the points to the origin and to size 1.
func local(points []Point, m Point, size float64) []Point {
	out := make([]Point, len(points))
	for i, p := range points {
		out[i] = Point{(p.X - m.X) / size, (p.Y - m.Y) / size}
	}
	return out
}

// kasa is the circle x² + y² = 2 X x + 2 Y y + k with least squared residuals
// (I. Kåsa, IEEE Trans. Instrum. Meas. 25 (1976) 8; from memory), for points
// with mean 0. It errs towards small circles on short arcs: a start only.
func kasa(points []Point) (Circle, error) {
	var xx, xy, yy, xz, yz, z float64
	for _, p := range points {
		r := p.X*p.X + p.Y*p.Y
		xx, xy, yy = xx+p.X*p.X, xy+p.X*p.Y, yy+p.Y*p.Y
		xz, yz, z = xz+p.X*r, yz+p.Y*r, z+r
	}
	det := xx*yy - xy*xy
	if !(det > thinnest*thinnest*(xx+yy)*(xx+yy)) {
		return Circle{}, fmt.Errorf("points on a line: %w", ErrDegenerate)
	}
	x, y := (xz*yy-yz*xy)/det/2, (yz*xx-xz*xy)/det/2
	return Circle{x, y, math.Sqrt(x*x + y*y + z/float64(len(points)))}, nil
}

// sweep is the full turn less the largest gap between neighbouring angles.
func sweep(angles []float64) float64 {
	slices.Sort(angles)
	gap := angles[0] + 2*math.Pi - angles[len(angles)-1]
	for i := 1; i < len(angles); i++ {
		gap = max(gap, angles[i]-angles[i-1])
	}
	return 2*math.Pi - gap
}
