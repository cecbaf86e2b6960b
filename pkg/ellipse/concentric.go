package ellipse

import (
	"cmp"
	"math"
	"slices"
)

// Concentric is printed lines about one middle, the outermost first: the rings of
// some target. It is made of the ellipses alone, whatever the spec, and shows
// why a photo is refused; nothing is measured by it.
type Concentric []Line

// ConcentricLines finds the sets of two lines or more about one middle, the
// largest first, of ellipses of which at least leastArc is seen.
func ConcentricLines(candidates []Candidate, leastArc float64, set Settings) []Concentric {
	lines := flankPairs(candidates, leastArc, &set)
	var out []Concentric
	for _, own := range lines {
		if r := gather(own, lines, &set); len(r) > 1 {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, b Concentric) int { return cmp.Compare(b[0].A, a[0].A) })
	return out
}

// flankPairs takes for each ellipse the next smaller one about the same middle.
func flankPairs(candidates []Candidate, leastArc float64, set *Settings) []Line {
	var out []Line
	for _, c := range candidates {
		best := Line{Width: math.Inf(1)}
		for _, d := range candidates {
			w := c.A - d.A
			if c.Arc < leastArc || d.Arc < leastArc || w < set.NarrowestLine*c.A || w > set.WidestLine*c.A ||
				w >= best.Width || !set.flanksOfOne(c, d, w) {
				continue
			}
			best = flanks(c.Ellipse, d.Ellipse)
		}
		if !math.IsInf(best.Width, 1) {
			out = append(out, best)
		}
	}
	slices.SortStableFunc(out, func(a, b Line) int { return cmp.Compare(b.A, a.A) })
	return out
}

// gather takes the lines within one line that are like it.
func gather(own Line, lines []Line, set *Settings) Concentric {
	out := Concentric{own}
	for _, l := range lines {
		last := out[len(out)-1]
		if l.A < last.A-set.LineApart*max(l.Width, last.Width) && math.Hypot(l.X-own.X, l.Y-own.Y) < set.ConcentricMiddle*own.A &&
			math.Abs(l.Width-own.Width) < set.ConcentricWidth*own.Width && math.Abs(l.Flat()-own.Flat()) < set.SameFlatness {
			out = append(out, l)
		}
	}
	return out
}

// Match is how many of the lines are rings of the diameters given (mm) at the
// scale at which most are, and that scale: of equal ones that at which the
// outermost line is the largest ring. One line always fits.
func (r Concentric) Match(rings []float64, set Settings) (fitting int, mmPerPx float64) {
	for _, l := range r {
		for _, d := range slices.Backward(rings) {
			scale := d / 2 / l.A
			n := 0
			for _, m := range r {
				if slices.ContainsFunc(rings, func(e float64) bool { return math.Abs(m.A*scale-e/2) < set.ConcentricRatio*e/2 }) {
					n++
				}
			}
			if n > fitting {
				fitting, mmPerPx = n, scale
			}
		}
	}
	return fitting, mmPerPx
}
