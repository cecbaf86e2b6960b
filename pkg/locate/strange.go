package locate

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/ellipse"
	"burngauge.dev/burngauge/pkg/ring"
)

// strangeLines counts the lines about the one ring that is seen which the spec
// does not have. One circle leaves the tilt to the bar, so that a line within it
// may not be a circle in the fit's plane: lines are looked for among the ellipses
// of the photo, as wide as the ring's own line.
func (s *Sighting) strangeLines(f *ring.Fit) (n int) {
	set := s.set
	scale := f.PxPerMM()
	middle := f.Pixel(0, 0)
	fitted := ellipse.Line{Ellipse: conic.Ellipse{X: middle.X, Y: middle.Y, A: f.Spec.OuterRadius() * scale}, Width: f.Spec.LineMM * scale}
	for _, own := range ellipse.LinesLike(s.Ellipses, ellipse.Like{Line: fitted, Middle: set.NearMiddle, Width: set.NearWidth}, set.Ellipse) {
		seen := f.RingAt(own.A/scale, set.NearRadius*own.A/scale)
		if seen < 0 || !f.RingSeen(seen) {
			continue
		}
		mm := f.Spec.RingsMM[seen] / 2 / own.A // of a px along the ring's major axis
		for _, l := range ellipse.LinesLike(s.Ellipses, ellipse.Like{Line: own, Middle: set.SameMiddle, Width: set.SameWidth}, set.Ellipse) {
			if math.Abs(l.Flat()-own.Flat()) < set.Ellipse.SameFlatness && f.RingAt(l.A*mm, set.StrangeApart*l.Width*mm) < 0 {
				n++
			}
		}
	}
	return n
}
