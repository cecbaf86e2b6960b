package ring

import (
	"math"
)

// WithIndex turns the fit to the index bar and takes its sides into the fit.
// One circle alone leaves two tilts possible; each is tried, and the one in
// which the bar fits is kept. Where none does, the fit comes back turned and not
// Indexed.
func (f *Fit) WithIndex(index IndexEvidence) *Fit {
	turned := *f
	turned.Pose = f.Pose.Turned(index.Angle)
	starts := []*Fit{&turned}
	if f.Circles() == 1 {
		starts = append(starts, f.circleTilts()...)
	}
	var best *Fit
	bestCost := math.Inf(1)
	for i, start := range starts {
		g, cost, ok := start.fitBar()
		if !ok || (f.Circles() == 1 && !f.barStays(g, cost, index, i)) {
			continue
		}
		if cost < bestCost {
			best, bestCost = g, cost
		}
	}
	if best == nil {
		return &turned
	}
	best.Indexed = true
	best.Log = f.Log
	return best
}

// barStays says whether the bar still fits and stands out in one start's fit: about
// one circle it alone fixes the perspective, and its sides may have been taken for
// others on the way.
func (f *Fit) barStays(g *Fit, cost float64, index IndexEvidence, start int) bool {
	log := g.about(f.Log, "index bar, tilt %d", start+1)
	return !log.Above("ring.MostMisfit", cost, f.set.MostMisfit, "tilt left out") &&
		!log.Below("ring.BarStays", barSearch{g.face()}.contrast(0)/index.Contrast, f.set.BarStays, "tilt left out")
}

// circleTilts are the two poses in which the one circle seen could lie, turned to
// the index bar, before the camera that is known: one circle says nothing of it.
func (f *Fit) circleTilts() []*Fit {
	ideal := f.Camera
	ideal.K1 = 0
	el, err := f.outerEllipse(ideal)
	if err != nil {
		return nil
	}
	var out []*Fit
	for _, pose := range f.circlePoses(el, ideal) {
		g := f.trial()
		g.Pose, g.Camera = pose, f.priors.Camera
		g.Pose = g.Pose.Turned(g.FindIndex(FineAngles).Angle)
		out = append(out, g)
	}
	return out
}

// The index bar does two things: it fixes the turn about the target's facing direction,
// which rings leave open, and, where only one circle is seen, the perspective. A circle
// of a known radius seen as an ellipse has two poses (conic.CirclePoses), and its image
// says nothing of focal length and distortion: the bar's place beyond the ring, its
// direction and its foreshortened length say which pose it is.

// fitBar traces the bar's sides and fits everything together, looking less far each
// time; the cost is what rings, bar and prior knowledge leave unexplained. It is a
// trial; not ok when it does not settle.
func (f *Fit) fitBar() (g *Fit, cost float64, ok bool) {
	g = f.trial()
	circles := f.traces
	reaches := f.set.BarReaches
	if f.Circles() == 1 { // the bar may still lie well off: it is what fixes the perspective
		reaches = f.set.OneCircleReaches
	}
	for _, share := range reaches {
		t := tracer{face: g.face()}
		bar := t.bar(share * f.Spec.Index.WidthMM)
		g.traces = append(append([]trace(nil), circles...), bar...)
		if err := g.solve(f.set.BarRounds); err != nil || !g.sane() {
			return nil, math.Inf(1), false
		}
	}
	return g, g.misfit(f.spread), true
}
