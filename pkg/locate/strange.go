package locate

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/ellipse"
	"burngauge.dev/burngauge/pkg/ring"
)

// strangeEllipse tells whether a line lies about the one ring that is seen
// which the spec does not have. One circle leaves the tilt to the bar, so that
// a line within it may not be a circle in the fit's plane: it is looked for
// among the ellipses of the photo, as wide as the ring's own line.
func (s *Sighting) strangeEllipse(f *ring.Fit) bool {
	scale := f.PxPerMM()
	middle := f.Pixel(0, 0)
	fitted := ellipse.Line{Ellipse: conic.Ellipse{X: middle.X, Y: middle.Y, A: f.Spec.OuterRadius() * scale}, Width: f.Spec.LineMM * scale}
	for _, own := range ellipse.LinesLike(s.Ellipses, fitted, nearMiddle, nearWidth) {
		seen := f.RingAt(own.A/scale, nearRadius*own.A/scale)
		if seen < 0 || f.Arc(seen) < ring.LeastSeen {
			continue
		}
		mm := f.Spec.RingsMM[seen] / 2 / own.A // of a px along the ring's major axis
		for _, l := range ellipse.LinesLike(s.Ellipses, own, sameMiddle, sameWidth) {
			if math.Abs(l.Flat()-own.Flat()) < ellipse.SameFlatness && f.RingAt(l.A*mm, 1.2*l.Width*mm) < 0 {
				return true
			}
		}
	}
	return false
}

// Two lines are of one target when they agree to this.
const (
	sameMiddle = 0.06 // of the larger's radius; perspective moves the middle of a ring at 30 degrees by 0.03
	nearMiddle = 0.15 // the same for the fit's centre, which a wrong tilt moves
	nearRadius = 0.12 // the same for its radius
	sameWidth  = 0.3  // of the width
	nearWidth  = 0.6  // of the width that the spec says
)
