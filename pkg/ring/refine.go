package ring

// Refine traces and fits in turn, looking less far each time, and keeps what
// is really seen. Which edge belongs to which ring is decided by where the plane has
// the rings, and where the plane lies is decided by the edges: the two are done in
// turn, as in an iterative closest point search (P. J. Besl, N. D. McKay, PAMI 14
// (1992) 239), with a bound on the distance that narrows. The first look reaches to
// just short of half of the way to the next ring, so that no edge can belong to two;
// the last to a few px, where a shadow's edge beside a line is out of reach.
//
// An error means that there is no target where the fit began, or that the fit ran
// away from it.
func (f *Fit) Refine() error {
	f.stepU = f.set.StepBiasPx / f.PxPerMM()
	reach := min(f.set.FirstReachGap*f.gap(), f.set.FirstReachRadius*f.Spec.OuterRadius())
	noise := map[int]float64{}
	for left := f.set.Passes - 1; left >= 0; left-- {
		if err := f.pass(reach, left > 0, noise); err != nil {
			return err
		}
		narrower := reach * f.set.Narrowing
		reach = max(narrower, f.set.LeastReachGap*f.gap(), f.set.LeastReachPx*float64(f.raster.Factor)/f.PxPerMM())
	}
	f.keepSeen()
	if f.Log.Below("ring.LeastTraces", float64(len(f.traces)), f.set.LeastTraces, "too few edges: no target there") {
		return errFit
	}
	if err := f.solve(f.set.FinalRounds); err != nil || !f.sane() {
		return errFit
	}
	return nil
}

// pass traces all circles within reach mm and fits them. A sparse one need only find
// the way. The noise about each ring is measured in the first one and kept.
func (f *Fit) pass(reach float64, sparse bool, noise map[int]float64) error {
	t := tracer{face: f.face(), sparse: sparse, noise: noise, looked: map[group]int{}, log: f.Log}
	f.traces = t.circles(reach)
	f.looked, f.reach = t.looked, reach
	if f.Log.Below("ring.LeastFirstTraces", float64(len(f.traces)), f.set.LeastFirstTraces, "too few edges: no target there") {
		return errFit
	}
	rounds := f.set.Rounds
	if sparse {
		rounds = f.set.SparseRounds
	}
	if err := f.solve(rounds); err != nil {
		return err
	}
	if !f.sane() {
		return errFit
	}
	return nil
}

// keepSeen forgets the rings and the rim where what was found is no more than
// chance (Evidence.seen). A curve that a mark or tape hides still has extrema all
// round, which would pull the plane to nowhere in particular.
func (f *Fit) keepSeen() {
	keep := map[group]bool{}
	for k := range f.Spec.RingsMM {
		g := group{lineFeature, k}
		keep[g] = !f.aboutRing(f.Log, k).Below("ring.LeastSeen", f.seen(g), f.set.LeastSeen, "ring left out")
	}
	if f.Spec.RimMM > 0 {
		g := group{rimFeature, 0}
		log := f.about(f.Log, "rim")
		keep[g] = !log.Below("ring.LeastSeen", f.seen(g), f.set.LeastSeen, "rim left out")
	}
	var kept []trace
	for _, t := range f.traces {
		if keep[t.group()] {
			kept = append(kept, t)
		}
	}
	f.traces = kept
	f.weights, f.scale = nil, nil // of the traces before
}
