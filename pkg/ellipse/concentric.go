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

// How a Concentric's lines are told. Perspective moves the middle of a ring at 30
// degrees by 0.03 of the outer ring's radius; that of an arc cut in half is
// known half as well as a whole ellipse's.
const (
	widestLine       = 0.2 // of its own radius: 1.2 times that of the boldest inner ring; the gap to the next ring is more
	concentricMiddle = 0.1 // of the outermost radius
	concentricWidth  = 0.5 // of the width of the line that is compared with
	concentricRatio  = 0.04
	LeastConcentric  = 3    // lines of another target: two are a washer's too
	LargestThing     = 0.25 // of the short side, as large as a target should be; what lies about beside it is smaller
)

// ConcentricLines finds the sets of lines about one middle, the largest first.
func ConcentricLines(candidates []Candidate, leastArc float64) []Concentric {
	lines := flankPairs(candidates, leastArc)
	var out []Concentric
	for _, own := range lines {
		if r := gather(own, lines); len(r) > 1 {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, b Concentric) int { return cmp.Compare(b[0].A, a[0].A) })
	return out
}

// flankPairs takes for each ellipse the next smaller one about the same middle.
func flankPairs(candidates []Candidate, leastArc float64) []Line {
	var out []Line
	for _, c := range candidates {
		best := Line{Width: math.Inf(1)}
		for _, d := range candidates {
			w := c.A - d.A
			if c.Arc < leastArc || d.Arc < leastArc || w < 0.01*c.A || w > widestLine*c.A || w >= best.Width ||
				math.Hypot(c.X-d.X, c.Y-d.Y) > 0.5*w || math.Abs(c.B/c.A-d.B/d.A) > SameFlatness {
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
func gather(own Line, lines []Line) Concentric {
	out := Concentric{own}
	for _, l := range lines {
		last := out[len(out)-1]
		if l.A < last.A-1.2*max(l.Width, last.Width) && math.Hypot(l.X-own.X, l.Y-own.Y) < concentricMiddle*own.A &&
			math.Abs(l.Width-own.Width) < concentricWidth*own.Width && math.Abs(l.Flat()-own.Flat()) < SameFlatness {
			out = append(out, l)
		}
	}
	return out
}

// Match is how many of the lines are rings of the spec at the scale at which most
// are, and that scale: of equal ones that at which the outermost line is the largest ring. One line fits always.
func (r Concentric) Match(rings []float64) (fitting int, mmPerPx float64) {
	for _, l := range r {
		for _, d := range slices.Backward(rings) {
			scale := d / 2 / l.A
			n := 0
			for _, m := range r {
				if slices.ContainsFunc(rings, func(e float64) bool { return math.Abs(m.A*scale-e/2) < concentricRatio*e/2 }) {
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
