package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/lens"
)

// WithIndex turns the fit to the index bar and takes its sides into the fit.
// One circle alone leaves two tilts possible; each is tried, and the one in
// which the bar fits is kept.
func (f *Fit) WithIndex(index IndexEvidence) *Fit {
	turned := f.clone()
	turned.Pose = f.Pose.Turned(index.Angle)
	starts := []*Fit{turned}
	if f.Circles() == 1 {
		starts = append(starts, f.twins()...)
	}
	var best *Fit
	bestCost := math.Inf(1)
	for _, start := range starts {
		g, cost := start.fitIndex()
		if g == nil || (f.Circles() == 1 && (cost > mostMisfit || g.barContrast(0) < barStays*index.Contrast)) {
			continue // the bar alone fixes the perspective: it must fit
		}
		if cost < bestCost {
			best, bestCost = g, cost
		}
	}
	if best == nil {
		return turned
	}
	best.Indexed = true
	return best
}

// barStays: with the fit made, the bar must still stand out where it should be
// by this part of what it did when it was found; its sides may have been taken
// for others on the way.
const barStays = 0.6

// mostMisfit of a fit that rests on one circle and the bar: right ones have 0.3
// to 1.5 in simulated photos, those that took the bar for something else 3 and
// more.
const mostMisfit = 3.0

// twins are the two poses in which the one circle seen could lie, turned to
// the index bar.
func (f *Fit) twins() []*Fit {
	ideal := f.Camera
	ideal.K1 = 0
	el, err := f.outerEllipse(ideal)
	if err != nil {
		return nil
	}
	var out []*Fit
	poses, err := conic.CirclePoses(el, ideal.Focal, conic.Point{X: ideal.X, Y: ideal.Y}, f.Spec.OuterRadius())
	if err != nil {
		return nil
	}
	for _, pose := range poses {
		g := f.clone()
		g.Pose, g.Camera = lens.NewPose(pose.Normal, pose.Centre), f.priors.Camera
		index := g.FindIndex(FineAngles)
		g.Pose = g.Pose.Turned(index.Angle)
		out = append(out, g)
	}
	return out
}

// fitIndex traces the bar's sides and fits everything together; the cost is
// what rings, bar and prior knowledge leave unexplained.
func (f *Fit) fitIndex() (*Fit, float64) {
	g := f.clone()
	circles := f.traces
	width := f.Spec.Index.WidthMM
	reaches := []float64{0.3, 0.2}
	if f.Circles() == 1 { // the bar may still lie well off: it is what fixes the perspective
		reaches = []float64{0.55, 0.5, 0.4, 0.3, 0.2, 0.2}
	}
	for _, share := range reaches {
		reach := share * width
		g.traces = append(append([]trace(nil), circles...), g.traceIndex(reach)...)
		g.weights = nil
		if err := g.solve(2); err != nil || !g.sane() {
			return nil, math.Inf(1)
		}
	}
	return g, g.misfit(f.spread)
}

// misfit compares starts: the mean over curves and bar sides of the robust
// squared residual, circles in units of the scatter they had before the bar
// was looked at, sides in raster px, plus what prior knowledge is strained by.
func (f *Fit) misfit(scatter map[group]float64) float64 {
	sum, n := map[group]float64{}, map[group]float64{}
	var groups []group // as they come: a sum over a map would end in other digits each time
	for _, t := range f.traces {
		g := group{t.kind, t.which}
		if n[g] == 0 {
			groups = append(groups, g)
		}
		unit, known := scatter[g]
		if !known {
			unit = 0.5 * float64(f.raster.Factor)
		}
		r := f.residual(t) / unit
		sum[g] += min(r*r, 9)
		n[g]++
	}
	total := 0.0
	for _, g := range groups {
		total += sum[g] / n[g] / float64(len(groups))
	}
	return total + 0.05*square(f.prior())
}
