package cause

import (
	"fmt"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/ellipse"
	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/refusal"
)

func cutOff(side string) *refusal.Refusal {
	where := map[string]string{"left": "at the left", "right": "at the right", "top": "at the top", "bottom": "at the bottom"}[side]
	return refusal.New(refusal.CutOff, fmt.Sprintf("the target is cut off %s: step back or move the phone until all of it is in the picture, and take it again", where))
}

// cutConcentric names the side of the photo at which rings of the spec's ratios
// run out of it, "" when none do. They must be larger than least, px, and two
// lines of more, which have one ratio only, as large as a target should be.
func (e explainer) cutConcentric(least float64) string {
	set, search := e.set, e.Settings().Ellipse
	w, h := e.Photo.Image.Width, e.Photo.Image.Height
	for _, r := range ellipse.ConcentricLines(append(e.Edges.RunningOut(w, h), e.Ellipses...), search.LeastArc, search) {
		fitting, scale := r.Match(e.Spec.RingsMM, search)
		if fitting < len(r) {
			continue
		}
		outer := r[0].Ellipse
		grow := e.Spec.OuterRadius() / scale / outer.A
		outer.A, outer.B = outer.A*grow, outer.B*grow
		smallest := e.Settings().LeastSize / 2 * e.ShortSide()
		if fitting < min(set.LeastConcentric, len(e.Spec.RingsMM)) {
			smallest = set.LargestThing / 2 * e.ShortSide()
		}
		side, share := raster.Outside(outer.At, w, h)
		log := e.Log().About(conic.Point{X: outer.X, Y: outer.Y}, "%d lines in the spec's ratio", len(r))
		if outer.A > max(least, smallest) && log.Above("locate.MostCut", share, e.Settings().MostCut, "refused: "+string(refusal.CutOff)) {
			return side
		}
	}
	return ""
}
