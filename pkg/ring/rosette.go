package ring

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sync"

	"burngauge.dev/burngauge/pkg/conic"
)

// rosette is printed lines about one middle, the outermost first: the rings of
// some target. It is made of the ellipses alone, whatever the spec, and tells
// why a photo is refused; nothing is measured by it.
type rosette []rosetteLine

// rosetteLine is the middle between two ellipses, a line's flanks.
type rosetteLine struct {
	conic.Ellipse
	width float64 // px
}

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
func flankPairs(candidates []candidate, leastArc float64) []rosetteLine {
	var out []rosetteLine
	for _, c := range candidates {
		best := rosetteLine{width: math.Inf(1)}
		for _, d := range candidates {
			w := c.A - d.A
			if c.arc < leastArc || d.arc < leastArc || w < 0.01*c.A || w > widestLine*c.A || w >= best.width ||
				math.Hypot(c.X-d.X, c.Y-d.Y) > 0.5*w || math.Abs(c.B/c.A-d.B/d.A) > sameFlatness {
				continue
			}
			best = rosetteLine{conic.Ellipse{X: (c.X + d.X) / 2, Y: (c.Y + d.Y) / 2, A: (c.A + d.A) / 2, B: (c.B + d.B) / 2, Theta: c.Theta}, w}
		}
		if !math.IsInf(best.width, 1) {
			out = append(out, best)
		}
	}
	slices.SortStableFunc(out, func(a, b rosetteLine) int { return cmp.Compare(b.A, a.A) })
	return out
}

// gather takes the lines within one line that are like it.
func gather(own rosetteLine, lines []rosetteLine) rosette {
	out := rosette{own}
	for _, l := range lines {
		last := out[len(out)-1]
		if l.A < last.A-1.2*max(l.width, last.width) && math.Hypot(l.X-own.X, l.Y-own.Y) < rosetteMiddle*own.A &&
			math.Abs(l.width-own.width) < rosetteWidth*own.width && math.Abs(l.B/l.A-own.B/own.A) < sameFlatness {
			out = append(out, l)
		}
	}
	return out
}

// fit is how many of the lines are rings of the spec at the scale at which most
// are, and that scale. One line fits always.
func (r rosette) fit(rings []float64) (fitting int, mmPerPx float64) {
	for _, l := range r {
		for _, d := range rings {
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

// clearer puts a more certain cause in the place of a general one, where the
// ellipses show it: the target itself runs out of the photo, or whole rings
// that are not the spec's.
func (s *search) clearer(r *Refusal, best look) *Refusal {
	switch r.Code {
	case NoTarget, RingsUnclear, IndexHidden, TooSmall, TooTilted:
	default:
		return r
	}
	least := 0.0 // what was taken for the target may lie beside it, and is smaller then
	if best.fit != nil && s.accepted(best, Options{}) {
		least = best.fit.Spec.OuterRadius() * best.fit.PxPerMM()
	}
	if side := s.cutRosette(least); side != "" {
		return cutOff(side)
	}
	if r.Code != TooTilted && s.otherRosette() {
		return &Refusal{WrongTarget, fmt.Sprintf("the rings that are seen are not those of %s: name the right target with --target", s.spec.Name)}
	}
	return r
}

// otherRosette tells whether whole rings are seen that are not those of the
// spec, and none that are. Rings seen much from the side are left out: there
// perspective changes the ratios.
func (s *search) otherRosette() bool {
	least := largestThing / 2 * float64(min(s.photo.Image.Width, s.photo.Image.Height))
	other := false
	for _, r := range rosettes(s.candidates, wholeArc) {
		if r[0].A < least || r[0].B < 0.5*r[0].A {
			continue
		}
		switch fitting, _ := r.fit(s.spec.RingsMM); {
		case fitting == len(r) && fitting >= min(leastRosette, len(s.spec.RingsMM)):
			return false
		case len(r) >= leastRosette && fitting <= len(r)-2:
			other = true
		}
	}
	return other
}

// cutRosette names the side of the photo at which rings of the spec's ratios
// run out of it, "" when none do. They must be larger than least, px, and two
// lines alone, which have one ratio only, as large as a target should be.
func (s *search) cutRosette(least float64) string {
	w, h := s.photo.Image.Width, s.photo.Image.Height
	short := float64(min(w, h))
	for _, r := range rosettes(append(s.leaving(), s.candidates...), leastArc) {
		fitting, scale := r.fit(s.spec.RingsMM)
		if fitting < len(r) {
			continue
		}
		outer := r[0].Ellipse
		grow := s.spec.OuterRadius() / scale / outer.A
		outer.A, outer.B = outer.A*grow, outer.B*grow
		smallest := leastSize / 2 * short
		if fitting < leastRosette {
			smallest = largestThing / 2 * short
		}
		if side, share := shareOutside(outer.At, w, h); share > mostCut && outer.A > max(least, smallest) {
			return side
		}
	}
	return ""
}

// leaving lists the ellipses that run out of the photo, also those whose middle
// lies outside. The search leaves such aside: nothing can be measured there.
func (s *search) leaving() []candidate {
	w, h := s.photo.Image.Width, s.photo.Image.Height
	im, small := smallPicture(s.photo)
	pictures := pyramid(im)
	found := make([][]candidate, len(pictures))
	var wait sync.WaitGroup
	for i, picture := range pictures {
		wait.Go(func() {
			edges := findEdges(picture)
			edges.margin = middleOutside
			found[i] = everyEllipse(edges)
		})
	}
	wait.Wait()
	var out []candidate
	for i, list := range found {
		for _, c := range list {
			c.Ellipse = full(c.Ellipse, small.Factor<<i)
			if _, share := shareOutside(c.At, w, h); share > 0 && !known(out, c) {
				out = append(out, c)
			}
		}
	}
	return out
}

// middleOutside is how far, in major semi-axes, the middle of an ellipse may lie
// outside the photo: beyond, less is seen than holds an ellipse (leastArc).
const middleOutside = 0.5
