package ring

// BarFits says whether the bar's sides lie where the spec has them: with one circle
// alone nothing else shows which circle it is. A circle of another radius would put the
// bar, in units of that radius, at another distance and in another size, and the fit
// would take the print's departures there. Those are five, each in its own standard
// uncertainty, so the sum of their squares is chi-squared with five degrees of freedom
// at most when the bar is the spec's. What follows when they do not is recorded as then.
func (e *Evidence) BarFits(then string) bool {
	sides := 0
	for s := range barSides {
		if e.sideFits(s) {
			sides++
		}
	}
	log := e.about(e.Log, "index bar")
	if log.Below("ring.LeastBarSides", float64(sides), float64(e.set.LeastBarSides), then) {
		return false
	}
	if e.RimOnly() {
		return !log.Above("ring.MostRimBarStrain", e.barStrain(), e.set.MostRimBarStrain, then)
	}
	return !log.Above("ring.MostBarStrain", e.barStrain(), e.set.MostBarStrain, then)
}

// sideFits says whether one side was found and its edges lie along a straight line:
// their scatter, less what any side has in px, as a length on the target.
func (e *Evidence) sideFits(s side) bool {
	spread, found := e.spread[group{indexFeature, int(s)}]
	if !found {
		return false
	}
	beyond := (spread - e.set.SideSpreadPx) / e.PxPerMM()
	name := [barSides]string{"left side", "right side", "inner end", "outer end"}[s]
	return e.about(e.Log, "index bar, %s", name).Below("ring.MostSideSpreadMM", beyond, e.set.MostSideSpreadMM, "side fits")
}
