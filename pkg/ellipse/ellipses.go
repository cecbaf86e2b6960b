package ellipse

import (
	"cmp"
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/decision"
)

// Candidate is an ellipse that edges of the small picture support.
type Candidate struct {
	conic.Ellipse
	Arc float64 // fraction of its circumference that lies on edges
}

// everyEllipse proposes the ellipses in a small picture whose middle lies in it,
// or at most so many major semi-axes outside.
func everyEllipse(e *edgeMap, margin float64, count counts) []Candidate {
	var found []Candidate
	for _, chain := range e.chains() {
		for _, arc := range e.smoothArcs(chain) {
			c, ok := e.grow(arc, margin, count)
			if ok && !e.set.known(found, c) {
				found = append(found, c)
			}
		}
	}
	return found
}

// bestSupported orders candidates by how much of an ellipse is seen, and, less,
// how large it is (arc times the root of the major semi-axis), and keeps the first.
func (set *Settings) bestSupported(found []Candidate) []Candidate {
	slices.SortStableFunc(found, func(a, b Candidate) int {
		return cmp.Compare(b.Arc*math.Sqrt(b.A), a.Arc*math.Sqrt(a.A))
	})
	return found[:min(len(found), set.MostCandidates)]
}

// smoothArcs cuts a chain where it has a corner or bends the other way. The bend at
// a place is the angle between the steps u to it and v from it, BendReach pixels
// each: atan2(u × v, u · v). An ellipse bends to one side only.
func (e *edgeMap) smoothArcs(chain []edgel) [][]edgel {
	set, reach := e.set, e.set.BendReach
	var out [][]edgel
	start, sign := 0, 0.0
	cut := func(end int) {
		if end-start >= set.ShortestChain {
			out = append(out, chain[start:end])
		}
		start, sign = end, 0
	}
	for i := reach; i+reach < len(chain); i++ {
		a, b, c := chain[i-reach], chain[i], chain[i+reach]
		ux, uy, vx, vy := b.X-a.X, b.Y-a.Y, c.X-b.X, c.Y-b.Y
		bend := math.Atan2(ux*vy-uy*vx, ux*vx+uy*vy)
		switch {
		case math.Abs(bend) > set.CornerRad:
			cut(i)
		case math.Abs(bend) < set.StraightRad: // to which side is not clear
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
// again. (The fit is that of A. Fitzgibbon, M. Pilu, R. Fisher, PAMI 21 (1999)
// 476, which always gives an ellipse: see pkg/conic.)
func (e *edgeMap) grow(arc []edgel, margin float64, count counts) (Candidate, bool) {
	const enough = 200 // points of the first fit; more change it by less than the next fits do
	points := make([]conic.Point, 0, len(arc))
	step := 1 + len(arc)/enough
	for i := 0; i < len(arc); i += step {
		points = append(points, arc[i].Point)
	}
	el, err := conic.FitDirect(points)
	if err != nil || !e.plausible(el, margin, counts{}) {
		return Candidate{}, false
	}
	var covered float64
	for _, tolerance := range e.set.Tolerances {
		points, covered = e.along(el, tolerance)
		if len(points) < e.set.ShortestChain {
			return Candidate{}, false
		}
		el, err = conic.FitDirect(points)
		if err != nil || !e.plausible(el, margin, count) {
			return Candidate{}, false
		}
	}
	return Candidate{el, covered}, !count.arc.Below(covered, e.set.LeastArc)
}

// plausible says whether an ellipse is round and large enough, and its middle
// not farther outside the picture than the margin, in major semi-axes.
func (e *edgeMap) plausible(el conic.Ellipse, margin float64, count counts) bool {
	margin *= el.A
	return !count.radius.Below(el.B/float64(min(e.w, e.h)), e.set.LeastRadius) &&
		!count.flatness.Below(el.B/el.A, e.set.Flattest) && el.A < float64(max(e.w, e.h)) &&
		el.X > -margin && el.Y > -margin && el.X < float64(e.w)+margin && el.Y < float64(e.h)+margin
}

// along returns the edge points within tolerance px of the ellipse whose
// gradient is square to it, and the fraction of the circumference they cover.
// The circumference is taken as 2π √((a² + b²)/2) (Euler's, at most 11 % too long).
func (e *edgeMap) along(el conic.Ellipse, tolerance float64) ([]conic.Point, float64) {
	n := int(math.Ceil(2 * math.Pi * math.Sqrt((el.A*el.A+el.B*el.B)/2) / e.set.AlongStep))
	n = min(max(n, e.set.LeastAlong), e.set.MostAlong)
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

// nearest looks along the normal (nx, ny), a unit vector, for an edge pixel with a
// matching gradient g, |g · n| near 1, and gives the place of its edge nearest to
// (x, y). The sign of g does not matter: a ring's two flanks rise and fall.
func (e *edgeMap) nearest(x, y, nx, ny, tolerance float64) (conic.Point, bool) {
	best, found := math.Inf(1), conic.Point{}
	for t := -tolerance; t <= tolerance; t += e.set.AcrossStep {
		i, j := int(math.Round(x+t*nx)), int(math.Round(y+t*ny))
		if i < 0 || j < 0 || i >= e.w || j >= e.h {
			continue
		}
		k := j*e.w + i
		if e.magnitude[k] < e.low || math.Abs(float64(e.gx[k])*nx+float64(e.gy[k])*ny) < e.set.LeastSquare {
			continue
		}
		if d := math.Abs(t); d < best {
			best, found = d, e.edgel(k).Point
		}
	}
	return found, !math.IsInf(best, 1)
}

// known says whether an ellipse like c has been found already.
func (set *Settings) known(found []Candidate, c Candidate) bool {
	for _, f := range found {
		tol := set.SameShare * f.A
		if math.Abs(f.X-c.X) < tol && math.Abs(f.Y-c.Y) < tol && math.Abs(f.A-c.A) < tol && math.Abs(f.B-c.B) < tol {
			return true
		}
	}
	return false
}

// counts are the decisions on the many arcs of a picture; nil ones only compare.
type counts struct{ arc, flatness, radius *decision.Tally }

func newCounts(log *decision.Log, set *Settings) counts {
	const out = "no ellipse"
	return counts{
		arc:      log.Tally("ellipse.LeastArc", decision.Below, set.LeastArc, out),
		flatness: log.Tally("ellipse.Flattest", decision.Below, set.Flattest, out),
		radius:   log.Tally("ellipse.LeastRadius", decision.Below, set.LeastRadius, out),
	}
}

func (c counts) record() {
	c.arc.Record()
	c.flatness.Record()
	c.radius.Record()
}
