package ring

// Refine traces and fits in turn, looking less far each time, and keeps what
// is really seen.
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
// the way.
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
// chance.
func (f *Fit) keepSeen() {
	keep := map[group]bool{}
	for k := range f.Spec.RingsMM {
		g := group{lineFeature, k}
		keep[g] = !aboutRing(f.Log, &f.Plane, k).Below("ring.LeastSeen", f.seen(g), f.set.LeastSeen, "ring left out")
	}
	if f.Spec.RimMM > 0 {
		g := group{rimFeature, 0}
		log := about(f.Log, f.Pixel(0, f.Spec.RimMM/2), "rim")
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
