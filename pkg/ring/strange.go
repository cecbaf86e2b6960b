package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
)

// strangeLine looks between the rings for a line seen all round that the spec
// does not have.
func (f *Fit) strangeLine() (radius float64, found bool) {
	line := f.Spec.LineMM * f.Softness()
	for r := 0.35 * f.Spec.InnerRadius(); r < f.Spec.OuterRadius()-line; r += 0.4 * line {
		near := false
		for _, d := range f.Spec.RingsMM {
			near = near || math.Abs(r-d/2) < 1.6*line+2*float64(f.raster.Factor)/f.PxPerMM()
		}
		if !near && f.lineShare(r, line) > strangeShare {
			return r, true
		}
	}
	return 0, false
}

// strangeShare is the net share of a circle on which a line of the rings' kind
// must be seen to be one: the mark, the cross and the tape never reach it.
const strangeShare = 0.55

// lineShare is the share of a circle with a line of the rings' kind on it,
// less the share with one of the other kind.
func (f *Fit) lineShare(radius, line float64) float64 {
	const n = 90
	score := 0
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		at := func(d float64) float64 {
			return f.raster.Sample(f.raster.Light, f.Pixel((radius+d)*c, (radius+d)*s))
		}
		middle := (at(-0.2*line) + at(0) + at(0.2*line)) / 3
		inner, outer := (at(-1.2*line)+at(-line))/2, (at(1.2*line)+at(line))/2
		a, b := f.Sign*(middle-inner), f.Sign*(middle-outer)
		limit := 0.04 * (inner + outer) / 2
		switch {
		case a > limit && b > limit:
			score++
		case a < -limit && b < -limit:
			score--
		}
	}
	return float64(score) / n
}

// printedLine is a line as the search saw it: the middle between two ellipses of
// the photo, one for each flank.
type printedLine struct {
	conic.Ellipse         // px
	width         float64 // px
}

// flanks makes a line of its outer and its inner flank.
func flanks(outer, inner conic.Ellipse) printedLine {
	return printedLine{
		Ellipse: conic.Ellipse{X: (outer.X + inner.X) / 2, Y: (outer.Y + inner.Y) / 2, A: (outer.A + inner.A) / 2, B: (outer.B + inner.B) / 2, Theta: outer.Theta},
		width:   outer.A - inner.A,
	}
}

// flat is the axis ratio.
func (l printedLine) flat() float64 { return l.B / l.A }

// Two ellipses are the flanks of one line, and two lines are of one target,
// when they agree to this.
const (
	wholeArc     = 0.6  // of each flank is seen
	sameMiddle   = 0.06 // of the larger's radius; perspective moves the middle of a ring at 30 degrees by 0.03
	nearMiddle   = 0.15 // the same for the fit's centre, which a wrong tilt moves
	nearRadius   = 0.12 // the same for its radius
	sameFlatness = 0.06
	sameWidth    = 0.3 // of the width
	nearWidth    = 0.6 // of the width that the spec says
)

// printedLines pairs the search's ellipses to lines about the middle of a line
// and as wide as it, between a fifth and five quarters of its radius. Middle
// and width are the tolerances, as shares of its radius and width.
func (s *search) printedLines(like printedLine, middle, width float64) []printedLine {
	var out []printedLine
	for _, c := range s.candidates {
		if c.arc < wholeArc || math.Hypot(c.X-like.X, c.Y-like.Y) > middle*like.A || c.A < 0.2*like.A || c.A > 1.25*like.A {
			continue
		}
		for _, d := range s.candidates {
			w := c.A - d.A
			if d.arc < wholeArc || math.Abs(w-like.width) > width*like.width || math.Hypot(c.X-d.X, c.Y-d.Y) > 0.5*w || math.Abs(c.B/c.A-d.B/d.A) > sameFlatness {
				continue
			}
			out = append(out, flanks(c.Ellipse, d.Ellipse))
		}
	}
	return out
}

// strangeEllipse tells whether a line lies about the one ring that is seen
// which the spec does not have. One circle leaves the tilt to the bar, so that
// a line within it may not be a circle in the fit's plane: it is looked for
// among the ellipses of the photo, as wide as the ring's own line.
func (s *search) strangeEllipse(f *Fit) bool {
	scale := f.PxPerMM()
	middle := f.Pixel(0, 0)
	fitted := printedLine{Ellipse: conic.Ellipse{X: middle.X, Y: middle.Y, A: f.Spec.OuterRadius() * scale}, width: f.Spec.LineMM * scale}
	for _, own := range s.printedLines(fitted, nearMiddle, nearWidth) {
		seen := f.ringAt(own.A/scale, nearRadius*own.A/scale)
		if seen < 0 || f.arc(seen) < leastSeen {
			continue
		}
		mm := f.Spec.RingsMM[seen] / 2 / own.A // of a px along the ring's major axis
		for _, l := range s.printedLines(own, sameMiddle, sameWidth) {
			if math.Abs(l.flat()-own.flat()) < sameFlatness && f.ringAt(l.A*mm, 1.2*l.width*mm) < 0 {
				return true
			}
		}
	}
	return false
}

// ringAt is the spec's ring within so many mm of a radius, -1 when there is none.
func (f *Fit) ringAt(radius, within float64) int {
	for k, d := range f.Spec.RingsMM {
		if math.Abs(d/2-radius) < within {
			return k
		}
	}
	return -1
}
