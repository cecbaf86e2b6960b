package ring

import (
	"cmp"
	"math"
	"slices"
)

// rosette is printed lines about one middle, the outermost first: the rings of
// some target. It is made of the ellipses alone, whatever the spec, and tells
// why a photo is refused; nothing is measured by it.
type rosette []printedLine

// How a rosette's lines are told. Perspective moves the middle of a ring at 30
// degrees by 0.03 of the outer ring's radius; that of an arc cut in half is
// known half as well as a whole ellipse's.
const (
	widestLine    = 0.2 // of its own radius: 1.2 times that of the boldest inner ring; the gap to the next ring is more
	rosetteMiddle = 0.1 // of the outermost radius
	rosetteWidth  = 0.5 // of the width of the line that is compared with
	rosetteRatio  = 0.04
	leastRosette  = 3    // lines of another target: two are a washer's too
	largestThing  = 0.25 // of the short side, as large as a target should be; what lies about beside it is smaller
)

// rosettes finds the sets of lines about one middle, the largest first.
func rosettes(candidates []candidate, leastArc float64) []rosette {
	lines := flankPairs(candidates, leastArc)
	var out []rosette
	for _, own := range lines {
		if r := gather(own, lines); len(r) > 1 {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, b rosette) int { return cmp.Compare(b[0].A, a[0].A) })
	return out
}

// flankPairs takes for each ellipse the next smaller one about the same middle.
func flankPairs(candidates []candidate, leastArc float64) []printedLine {
	var out []printedLine
	for _, c := range candidates {
		best := printedLine{width: math.Inf(1)}
		for _, d := range candidates {
			w := c.A - d.A
			if c.arc < leastArc || d.arc < leastArc || w < 0.01*c.A || w > widestLine*c.A || w >= best.width ||
				math.Hypot(c.X-d.X, c.Y-d.Y) > 0.5*w || math.Abs(c.B/c.A-d.B/d.A) > sameFlatness {
				continue
			}
			best = flanks(c.Ellipse, d.Ellipse)
		}
		if !math.IsInf(best.width, 1) {
			out = append(out, best)
		}
	}
	slices.SortStableFunc(out, func(a, b printedLine) int { return cmp.Compare(b.A, a.A) })
	return out
}

// gather takes the lines within one line that are like it.
func gather(own printedLine, lines []printedLine) rosette {
	out := rosette{own}
	for _, l := range lines {
		last := out[len(out)-1]
		if l.A < last.A-1.2*max(l.width, last.width) && math.Hypot(l.X-own.X, l.Y-own.Y) < rosetteMiddle*own.A &&
			math.Abs(l.width-own.width) < rosetteWidth*own.width && math.Abs(l.flat()-own.flat()) < sameFlatness {
			out = append(out, l)
		}
	}
	return out
}

// fit is how many of the lines are rings of the spec at the scale at which most
// are, and that scale: of equal ones that at which the outermost line is the largest ring. One line fits always.
func (r rosette) fit(rings []float64) (fitting int, mmPerPx float64) {
	for _, l := range r {
		for _, d := range slices.Backward(rings) {
			scale := d / 2 / l.A
			n := 0
			for _, m := range r {
				if slices.ContainsFunc(rings, func(e float64) bool { return math.Abs(m.A*scale-e/2) < rosetteRatio*e/2 }) {
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
