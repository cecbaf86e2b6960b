package ring

import "burngauge.dev/burngauge/pkg/decision"

// Shine is the share of the target's face that is burnt out in all colours.
func (e *Evidence) Shine() float64 { return e.face().shine() }

// UnknownLine looks between the rings for a line seen all round that the spec
// does not have, and gives its radius, mm. It steps outward by less than a line's
// width, and keeps away from the spec's rings by what blur may spread them.
func (e *Evidence) UnknownLine() (radius float64, found bool) {
	tally := e.Log.Tally("ring.StrangeShare", decision.Above, e.set.StrangeShare, "refused: wrong-target, a line that the spec does not have")
	defer tally.Record()
	line := e.Spec.LineMM * e.Softness()
	away := e.set.StrangeAway*line + e.set.StrangeAwayPx*float64(e.raster.Factor)/e.PxPerMM()
	for r := e.set.StrangeFrom * e.Spec.InnerRadius(); r < e.Spec.OuterRadius()-line; r += e.set.StrangeStep * line {
		if e.RingAt(r, away) < 0 && tally.Above(e.face().lineShare(r, line), e.set.StrangeShare) {
			return r, true
		}
	}
	return 0, false
}
