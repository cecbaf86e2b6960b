package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
)

// printedLine is a ring line as the search saw it: two ellipses of the photo,
// one for each flank.
type printedLine struct {
	middle conic.Point // px
	radius float64     // mean major semi-axis, px
	width  float64     // px
	flat   float64     // axis ratio
}

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
		if c.arc < wholeArc || math.Hypot(c.X-like.middle.X, c.Y-like.middle.Y) > middle*like.radius || c.A < 0.2*like.radius || c.A > 1.25*like.radius {
			continue
		}
		for _, d := range s.candidates {
			w := c.A - d.A
			if d.arc < wholeArc || math.Abs(w-like.width) > width*like.width || math.Hypot(c.X-d.X, c.Y-d.Y) > 0.5*w || math.Abs(c.B/c.A-d.B/d.A) > sameFlatness {
				continue
			}
			out = append(out, printedLine{
				middle: conic.Point{X: (c.X + d.X) / 2, Y: (c.Y + d.Y) / 2},
				radius: (c.A + d.A) / 2, width: w, flat: (c.B + d.B) / (c.A + d.A),
			})
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
	fitted := printedLine{middle: f.Pixel(0, 0), radius: f.Spec.OuterRadius() * scale, width: f.Spec.LineMM * scale}
	for _, own := range s.printedLines(fitted, nearMiddle, nearWidth) {
		seen := f.ringAt(own.radius/scale, nearRadius*own.radius/scale)
		if seen < 0 || f.arc(seen) < leastSeen {
			continue
		}
		mm := f.Spec.RingsMM[seen] / 2 / own.radius // of a px along the ring's major axis
		for _, l := range s.printedLines(own, sameMiddle, sameWidth) {
			if math.Abs(l.flat-own.flat) < sameFlatness && f.ringAt(l.radius*mm, 1.2*l.width*mm) < 0 {
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
