package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/stat"
)

// Evidence is a fit's problem with the photo it was traced in: what of the target is
// seen where the fit has it.
type Evidence struct {
	problem
	Sign float64 // -1: lines darker than what they are printed on, +1: lighter
	// Log records the decisions about this fit under "ring." and the field of Settings;
	// nil records nothing. Fits that are only tried record nothing.
	Log *decision.Log

	raster *raster.Raster
	looked map[group]int // places looked at, of each curve
	reach  float64       // mm, how far the last look went to either side of the rings
}

// Raster is the cut-out of the photo that the fit was made on.
func (e *Evidence) Raster() *raster.Raster { return e.raster }

// face is the target's face as the fit has it now, and follows it when it moves.
func (e *Evidence) face() face { return face{&e.Plane, e.raster, e.Sign, e.set} }

// Arc is the fraction of ring k on which its line is seen where the fit has it.
func (e *Evidence) Arc(k int) float64 { return e.seen(group{lineFeature, k}) }

// RimArc is the fraction of the round edge that is seen where the fit has it.
func (e *Evidence) RimArc() float64 { return e.seen(group{rimFeature, 0}) }

// seen is the fraction of a curve whose edge lies where the fit has it, less
// what would lie there by chance. An edge that is anything at all lies anywhere
// within the reach r, so within the tolerance t with the chance c = t/r; when the
// share s is the seen fraction x and chance in the rest, s = x + (1 - x) c, so
//
//	x = (s - c)/(1 - c)
func (e *Evidence) seen(g group) float64 {
	tolerance := max(e.set.SeenPx*float64(e.raster.Factor), e.set.SeenLine*e.Spec.LineMM*e.PxPerMM())
	n := 0
	for _, t := range e.traces {
		if t.group() == g && math.Abs(e.residual(t)) < tolerance {
			n++
		}
	}
	chance := min(e.set.MostChance, tolerance/(e.reach*e.PxPerMM()))
	share := float64(n) / float64(max(e.looked[g], 1))
	return max(0, (share-chance)/(1-chance))
}

// Circles is how many concentric circles the fit rests on, rings and rim. One leaves
// the tilt open to its mirror image and to the lens; with two, how the centres of their
// ellipses lie apart fixes it.
func (e *Evidence) Circles() int {
	seen := map[group]bool{}
	for _, t := range e.traces {
		if t.kind != indexFeature {
			seen[t.group()] = true
		}
	}
	return len(seen)
}

// RimOnly says whether the rim is the only circle the fit rests on.
func (e *Evidence) RimOnly() bool { return e.Circles() == 1 && e.RingsSeen() == 0 }

// RingSeen says whether enough of ring k is seen for the fit to rest on it.
func (e *Evidence) RingSeen(k int) bool { return e.Arc(k) >= e.set.LeastSeen }

// RingsSeen is how many of the spec's rings the fit rests on.
func (e *Evidence) RingsSeen() int {
	n := 0
	for k := range e.Spec.RingsMM {
		if e.Arc(k) > e.set.LeastSeen {
			n++
		}
	}
	return n
}

// SkipsRing says whether a ring between two that are seen is not: a mark may hide
// the inner rings and tape a part of each, but neither hides just that one.
func (e *Evidence) SkipsRing() bool {
	seen, gap := false, false
	for k := range e.Spec.RingsMM {
		switch here := e.Arc(k) > e.set.LeastSeen; {
		case here && gap:
			return true
		case here:
			seen = true
		case seen:
			gap = true
		}
	}
	return false
}

// Seen is one circle the fit rests on.
type Seen struct {
	DiameterMM float64
	Arc        float64 // fraction of the circle
	RMSPx      float64 // of the edge points that count, photo px
}

// Seen lists the rings, and the rim, that the fit rests on.
func (e *Evidence) Seen() []Seen {
	var out []Seen
	add := func(g group, diameter float64) {
		if rms, ok := e.rms(g); ok {
			out = append(out, Seen{diameter, e.seen(g), rms})
		}
	}
	for k, d := range e.Spec.RingsMM {
		add(group{lineFeature, k}, d)
	}
	if e.Spec.RimMM > 0 {
		add(group{rimFeature, 0}, e.Spec.RimMM)
	}
	return out
}

// rms is the weighted root mean square of a curve's residuals, √(Σwe²/Σw), px; false
// when none counts.
func (e *Evidence) rms(g group) (float64, bool) {
	sum, n := 0.0, 0.0
	for i, t := range e.traces {
		if t.group() == g && e.weights[i] > 0 {
			r := e.residual(t)
			sum += e.weights[i] * r * r
			n += e.weights[i]
		}
	}
	return math.Sqrt(sum / n), n > 0
}

// Softness is how much wider than its nominal width a line is between its
// flanks, at least 1: the median over all edges of lines, which defocus and the
// photo's resolution raise.
func (e *Evidence) Softness() float64 {
	var widths []float64
	for _, t := range e.traces {
		if t.kind == lineFeature {
			widths = append(widths, t.widthMM)
		}
	}
	if len(widths) == 0 {
		return 1
	}
	return max(1, stat.Median(widths)/e.Spec.LineMM)
}

// misfit compares fits to the same edges:
//
//	mean over curves of (mean over their edges of min((e/u)², c)) + k · Strain
//
// Each residual e is bounded, at c, so that an edge far aside counts no more than one
// missed: two fits may leave out different ones, and weights made for one of them
// would judge the other. Curves count alike, however many edges they have, since it is
// the bar's few that show a wrong tilt. The unit u is the scatter given for circles;
// bar sides, which had none before the bar was looked at, count in raster px.
func (e *Evidence) misfit(scatter map[group]float64) float64 {
	sum, n := map[group]float64{}, map[group]float64{}
	var groups []group // as they come: a sum over a map would end in other digits each time
	for _, t := range e.traces {
		g := t.group()
		if n[g] == 0 {
			groups = append(groups, g)
		}
		unit, known := scatter[g]
		if !known {
			unit = e.set.SideScatterPx * float64(e.raster.Factor)
		}
		r := e.residual(t) / unit
		sum[g] += min(r*r, e.set.MostMisfitTerm)
		n[g]++
	}
	total := 0.0
	for _, g := range groups {
		total += sum[g] / n[g] / float64(len(groups))
	}
	return total + e.set.StrainInMisfit*e.Strain()
}
