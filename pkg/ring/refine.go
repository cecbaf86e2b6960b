package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/lens"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/target"
)

// Start is a fit before anything is traced: the spec's rings where the pose (mm)
// has them before the camera that is known, their lines lighter than what they
// are printed on (sign +1) or darker (-1).
func Start(spec target.Spec, priors lens.Priors, pose lens.Pose, sign float64) *Fit {
	return &Fit{
		Spec: spec, Camera: priors.Camera, Pose: pose, Sign: sign, priors: priors,
		off:    make([]float64, len(spec.RingsMM)+1+barParameters),
		looked: map[group]int{}, noise: map[int]float64{},
	}
}

// extent is the radius in mm of everything on the target that is looked at.
func (f *Fit) extent() float64 {
	return max(f.Spec.OuterRadius()+f.Spec.Index.ToMM, f.Spec.RimMM/2)
}

// Cut takes the part of the photo that the target is on, reduced so that a
// line stays at least 6 px wide.
func (f *Fit) Cut(im photo.Image) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for a := range 16 {
		s, c := math.Sincos(2 * math.Pi * float64(a) / 16)
		r := 1.1 * (f.extent() + 1)
		p := f.Pixel(r*c, r*s)
		if math.IsNaN(p.X) {
			continue
		}
		x0, y0, x1, y1 = min(x0, p.X), min(y0, p.Y), max(x1, p.X), max(y1, p.Y)
	}
	clamp := func(v float64, hi int) int { return int(max(0, min(v, float64(hi)))) }
	factor := min(max(int(f.Spec.LineMM*f.PxPerMM()/6), 1), 4)
	w, h := im.Width, im.Height
	f.raster = raster.New(im, clamp(x0, w), clamp(y0, h), clamp(x1+1, w), clamp(y1+1, h), factor)
}

// gap is the smallest distance in mm between neighbouring rings, or from the
// centre to the first.
func (f *Fit) gap() float64 {
	gap, last := math.Inf(1), 0.0
	for _, d := range f.Spec.RingsMM {
		gap, last = min(gap, (d-last)/2), d
	}
	return gap
}

// Refine traces and fits in turn, looking less far each time, and keeps what
// is really seen.
func (f *Fit) Refine() error {
	reach := min(0.42*f.gap(), 0.11*f.Spec.OuterRadius())
	f.stepU = stepBiasPx / f.PxPerMM()
	for pass := range 3 {
		f.reach = reach
		f.sparse = pass < 2 // the first looks need only find the way
		f.traceAll(reach)
		if len(f.traces) < leastTraces/2 {
			return errFit
		}
		rounds := 3
		if f.sparse {
			rounds = 2
		}
		if err := f.solve(rounds); err != nil {
			return err
		}
		if !f.sane() {
			return errFit
		}
		reach = max(reach*0.6, 0.1*f.gap(), 3*float64(f.raster.Factor)/f.PxPerMM())
	}
	f.dropUnseen()
	if len(f.traces) < leastTraces {
		return errFit
	}
	if err := f.solve(2); err != nil || !f.sane() {
		return errFit
	}
	return nil
}

// leastTraces: a plane has 8 unknowns; fewer edge points than this leave no
// residuals to judge it by.
const leastTraces = 20

func (f *Fit) traceAll(reach float64) {
	f.traces = nil
	for k := range f.Spec.RingsMM {
		f.traces = append(f.traces, f.traceRing(k, reach)...)
	}
	if f.Spec.RimMM > 0 {
		f.traces = append(f.traces, f.traceRim(1.5*reach)...)
	}
}

// dropUnseen forgets the rings and the rim where what was found is no more
// than chance.
func (f *Fit) dropUnseen() {
	var kept []trace
	for _, t := range f.traces {
		if f.seen(group{t.kind, t.which}) >= LeastSeen {
			kept = append(kept, t)
		}
	}
	f.traces = kept
	f.weights = nil
}

// LeastSeen is the fraction of a ring that must be seen beyond chance.
const LeastSeen = 0.15

// sane tells whether the fit is still a picture of the target: its centre on
// the photo, its plane in front of the camera and not edge-on.
func (f *Fit) sane() bool {
	c := f.Pixel(0, 0)
	size := f.PxPerMM() * f.Spec.OuterRadius()
	return f.raster.Contains(c) && f.Pose.Tilt() < 80*math.Pi/180 && size > 5 && size < 1e5
}

// Arc is the fraction of ring k on which its line is seen where the fit has it.
func (f *Fit) Arc(k int) float64 { return f.seen(group{lineFeature, k}) }

// seen is the fraction of a curve whose edge lies where the fit has it, less
// what would lie there by chance.
func (f *Fit) seen(g group) float64 {
	tolerance := max(1.2*float64(f.raster.Factor), 0.15*f.Spec.LineMM*f.PxPerMM())
	n := 0
	for _, t := range f.traces {
		if t.kind == g.kind && t.which == g.which && math.Abs(f.residual(t)) < tolerance {
			n++
		}
	}
	chance := min(0.8, tolerance/(f.reach*f.PxPerMM()))
	share := float64(n) / float64(max(f.looked[g], 1))
	return max(0, (share-chance)/(1-chance))
}

// Circles is how many concentric circles the fit rests on.
func (f *Fit) Circles() int {
	seen := map[group]bool{}
	for _, t := range f.traces {
		if t.kind != indexFeature {
			seen[group{t.kind, t.which}] = true
		}
	}
	return len(seen)
}

// RimOnly tells whether the rim is the only circle the fit rests on.
func (f *Fit) RimOnly() bool { return f.Circles() == 1 && f.RingsSeen() == 0 }

// RimArc is the fraction of the round edge that is seen where the fit has it.
func (f *Fit) RimArc() float64 { return f.seen(group{rimFeature, 0}) }

// On is the fit to be looked at on another cut-out of the photo.
func (f *Fit) On(r *raster.Raster) *Fit {
	f.raster = r
	return f
}
