package ellipse

import (
	"cmp"
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/conic"
)

// Candidate is an ellipse that edges of the small picture support.
type Candidate struct {
	conic.Ellipse
	Arc float64 // fraction of its circumference that lies on edges
}

const (
	shortestChain  = 18   // px: less does not tell an ellipse from a line
	flattest       = 0.28 // axis ratio; 74 degrees of tilt: what is too tilted must be found to be refused by name
	LeastArc       = 0.30 // below this an ellipse is not held by its points
	mostCandidates = 48
	leastRadius    = 0.02 // of the short side: a third of the smallest target's outer ring
)

// everyEllipse proposes the ellipses in a small picture whose middle lies in it,
// or at most so many major semi-axes outside.
func everyEllipse(e *edgeMap, margin float64) []Candidate {
	smallest := leastRadius * float64(min(e.w, e.h))
	var found []Candidate
	for _, chain := range e.chains(shortestChain) {
		for _, arc := range smoothArcs(chain) {
			c, ok := e.grow(arc, smallest, margin)
			if ok && !known(found, c) {
				found = append(found, c)
			}
		}
	}
	return found
}

// bestSupported orders candidates by how much of an ellipse is seen, and, less,
// how large it is, and keeps the first.
func bestSupported(found []Candidate) []Candidate {
	slices.SortStableFunc(found, func(a, b Candidate) int {
		return cmp.Compare(b.Arc*math.Sqrt(b.A), a.Arc*math.Sqrt(a.A))
	})
	return found[:min(len(found), mostCandidates)]
}

// smoothArcs cuts a chain where it has a corner or bends the other way.
func smoothArcs(chain []edgel) [][]edgel {
	const reach = 7 // px over which a bend is measured
	var out [][]edgel
	start, sign := 0, 0.0
	cut := func(end int) {
		if end-start >= shortestChain {
			out = append(out, chain[start:end])
		}
		start, sign = end, 0
	}
	for i := reach; i+reach < len(chain); i++ {
		a, b, c := chain[i-reach], chain[i], chain[i+reach]
		ux, uy, vx, vy := b.X-a.X, b.Y-a.Y, c.X-b.X, c.Y-b.Y
		bend := math.Atan2(ux*vy-uy*vx, ux*vx+uy*vy)
		switch {
		case math.Abs(bend) > 0.95: // radians; a ring of 8 px radius bends 0.87
			cut(i)
		case math.Abs(bend) < 0.12: // too straight to tell which way
		case sign == 0:
			sign = math.Copysign(1, bend)
		case bend*sign < 0:
			cut(i)
		}
	}
	cut(len(chain))
	return out
}

// grow fits an ellipse to an arc, gathers all edge points along it, and fits
// again.
func (e *edgeMap) grow(arc []edgel, smallest, margin float64) (Candidate, bool) {
	points := make([]conic.Point, 0, len(arc))
	step := 1 + len(arc)/200
	for i := 0; i < len(arc); i += step {
		points = append(points, arc[i].Point)
	}
	el, err := conic.FitDirect(points)
	if err != nil || !e.plausible(el, smallest, margin) {
		return Candidate{}, false
	}
	var covered float64
	for _, tolerance := range []float64{2.5, 1.8, 1.5} { // px
		points, covered = e.along(el, tolerance)
		if len(points) < shortestChain {
			return Candidate{}, false
		}
		el, err = conic.FitDirect(points)
		if err != nil || !e.plausible(el, smallest, margin) {
			return Candidate{}, false
		}
	}
	return Candidate{el, covered}, covered >= LeastArc
}

func (e *edgeMap) plausible(el conic.Ellipse, smallest, margin float64) bool {
	margin *= el.A
	return el.B >= smallest && el.B >= flattest*el.A && el.A < float64(max(e.w, e.h)) &&
		el.X > -margin && el.Y > -margin && el.X < float64(e.w)+margin && el.Y < float64(e.h)+margin
}

// along returns the edge points within tolerance px of the ellipse whose
// gradient is square to it, and the fraction of the circumference they cover.
func (e *edgeMap) along(el conic.Ellipse, tolerance float64) ([]conic.Point, float64) {
	n := int(math.Ceil(2 * math.Pi * math.Sqrt((el.A*el.A+el.B*el.B)/2) / 1.5))
	n = min(max(n, 24), 600)
	sin, cos := math.Sincos(el.Theta)
	var points []conic.Point
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		x := el.X + el.A*c*cos - el.B*s*sin
		y := el.Y + el.A*c*sin + el.B*s*cos
		nx, ny := c*cos/el.A-s*sin/el.B, c*sin/el.A+s*cos/el.B
		norm := math.Hypot(nx, ny)
		if p, ok := e.nearest(x, y, nx/norm, ny/norm, tolerance); ok {
			points = append(points, p)
		}
	}
	return points, float64(len(points)) / float64(n)
}

// nearest looks along the normal for an edge pixel with a matching gradient.
func (e *edgeMap) nearest(x, y, nx, ny, tolerance float64) (conic.Point, bool) {
	best, found := math.Inf(1), conic.Point{}
	for t := -tolerance; t <= tolerance; t += 0.5 {
		i, j := int(math.Round(x+t*nx)), int(math.Round(y+t*ny))
		if i < 0 || j < 0 || i >= e.w || j >= e.h {
			continue
		}
		k := j*e.w + i
		if e.magnitude[k] < e.low || math.Abs(float64(e.gx[k])*nx+float64(e.gy[k])*ny) < 0.9 {
			continue
		}
		if d := math.Abs(t); d < best {
			best, found = d, e.edgel(k).Point
		}
	}
	return found, !math.IsInf(best, 1)
}

// known tells whether an ellipse like c has been found already.
func known(found []Candidate, c Candidate) bool {
	for _, f := range found {
		tol := 0.03 * f.A
		if math.Abs(f.X-c.X) < tol && math.Abs(f.Y-c.Y) < tol && math.Abs(f.A-c.A) < tol && math.Abs(f.B-c.B) < tol {
			return true
		}
	}
	return false
}
