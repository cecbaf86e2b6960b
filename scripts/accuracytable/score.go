package main

import (
	"math"

	"burngauge.dev/burngauge/pkg/photoset"
)

// Bounds of the accuracy table; they are the project's promise, not tuned.
const (
	leastMeasured    = 0.95 // share of the measurable photos
	medianMM         = 0.03 // error, two circles or more
	percentile95MM   = 0.10
	worstMM          = 0.30
	oneCircleMM      = 0.30 // median error, one circle only
	leastCovered     = 0.92 // share of true errors within the stated radius
	mostCovered      = 0.99
	coverage         = 0.95
	leastChance      = 0.01
	mostTimesDecode  = 3.0 // whole process over one that only decodes
	mostMegabytes    = 400.0
	marksForUpperEnd = 100 // below this one mark is more than 1 %, and all within says nothing against 95 %
)

func (o outcome) measured() bool { return o.said.Status == "measured" && o.said.Offset != nil }

// counts says whether the outcome's error enters the table.
func (o outcome) counts() bool { return o.measured() && o.photo.Expect != photoset.Refuse }

// missed is a photo that had to be measured and was not.
func (o outcome) missed() bool { return o.photo.Expect == photoset.Measure && !o.measured() }

// overbold is a photo that had to be refused and was measured.
func (o outcome) overbold() bool { return o.photo.Expect == photoset.Refuse && o.measured() }

// causeKnown is a photo that was refused and whose truth names the right code.
func (o outcome) causeKnown() bool { return !o.measured() && o.photo.Refusal != "" }

// code of the refusal, "" when there is none.
func (o outcome) code() string {
	if o.said.Refusal == nil {
		return ""
	}
	return o.said.Refusal.Code
}

// trueError is the distance in the plane between stated and true offset, mm.
func (o outcome) trueError() float64 {
	t := o.photo.Truth(o.mark)
	return math.Hypot(o.said.Offset.RightMM-t.RightMM, o.said.Offset.UpMM-t.UpMM)
}

// scoredError is the true error less what sensible definitions of the mark's
// centre differ by, mm, never below 0.
func (o outcome) scoredError() float64 {
	return math.Max(0, o.trueError()-o.photo.Truth(o.mark).DefinitionSpreadMM)
}

// radius is the stated uncertainty, mm; 0 when none was stated.
func (o outcome) radius() float64 {
	if o.said.Uncertainty == nil {
		return 0
	}
	return o.said.Uncertainty.RadiusMM
}

// ratio of the true error to the stated radius; above 1 the radius was too small.
func (o outcome) ratio() float64 { return o.trueError() / o.radius() }

func (o outcome) covered() bool { return o.trueError() <= o.radius() }

// wrongSide says that `inside` was said of a mark that is outside the limit,
// or the reverse. Borderline is never wrong.
func (o outcome) wrongSide() bool {
	if o.said.Verdict == nil {
		return false
	}
	distance, limit := o.photo.Truth(o.mark).Distance(), o.said.Verdict.LimitMM
	switch o.said.Verdict.State {
	case "inside":
		return distance > limit
	case "outside":
		return distance <= limit
	}
	return false
}

// collect applies f to the outcomes that keep holds for.
func collect(all []outcome, keep func(outcome) bool, f func(outcome) float64) []float64 {
	var out []float64
	for _, o := range all {
		if keep(o) {
			out = append(out, f(o))
		}
	}
	return out
}

// count of the outcomes that keep holds for.
func count(all []outcome, keep func(outcome) bool) int {
	n := 0
	for _, o := range all {
		if keep(o) {
			n++
		}
	}
	return n
}

// photosWhere counts photos, not marks: one with two marks counts once when
// keep holds for either.
func photosWhere(all []outcome, keep func(outcome) bool) int {
	seen := map[string]bool{}
	for _, o := range all {
		if keep(o) {
			seen[o.photo.File] = true
		}
	}
	return len(seen)
}
