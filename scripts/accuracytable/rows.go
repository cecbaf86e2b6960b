package main

import (
	"fmt"

	"gonum.org/v1/gonum/stat/distuv"

	"burngauge.dev/burngauge/pkg/photoset"
	"burngauge.dev/burngauge/pkg/stat"
)

// row is one line of the overall table.
type row struct {
	what, got, bound string
	state            string // pass, FAIL or "-" when there was nothing to check
}

func check(ok bool) string {
	if ok {
		return "pass"
	}
	return "FAIL"
}

// overall holds the outcomes against the bounds.
func overall(all []outcome) []row {
	return []row{
		measuredRow(all),
		errorRow(all),
		oneCircleRow(all),
		coverageRow(all),
		sideRow(all),
		refusalRow(all),
		causeRow(all),
	}
}

func measuredRow(all []outcome) row {
	r := row{what: "measurable photos that are measured", bound: fmt.Sprintf("at least %.0f %%", 100*leastMeasured), state: "-"}
	total := photosWhere(all, func(o outcome) bool { return o.photo.Expect == photoset.Measure })
	if total == 0 {
		r.got = "none here"
		return r
	}
	got := total - photosWhere(all, outcome.missed)
	share := float64(got) / float64(total)
	r.got = fmt.Sprintf("%d of %d, %.1f %%", got, total, 100*share)
	r.state = check(share >= leastMeasured)
	return r
}

func errorRow(all []outcome) row {
	r := row{
		what:  "error, two rings or more: median / 95th / worst",
		bound: fmt.Sprintf("%.2f / %.2f / %.2f mm", medianMM, percentile95MM, worstMM),
		state: "-",
	}
	errors := collect(all, func(o outcome) bool { return o.counts() && !o.photo.OneCircle() }, outcome.scoredError)
	if len(errors) == 0 {
		r.got = "none here"
		return r
	}
	median, high, worst := stat.Quantile(errors, 0.5), stat.Quantile(errors, 0.95), stat.Quantile(errors, 1)
	r.got = fmt.Sprintf("%.3f / %.3f / %.3f mm (%d marks)", median, high, worst, len(errors))
	r.state = check(median <= medianMM && high <= percentile95MM && worst <= worstMM)
	return r
}

func oneCircleRow(all []outcome) row {
	r := row{what: "error, single ring or rim only: median", bound: fmt.Sprintf("%.2f mm", oneCircleMM), state: "-"}
	errors := collect(all, func(o outcome) bool { return o.counts() && o.photo.OneCircle() }, outcome.scoredError)
	if len(errors) == 0 {
		r.got = "none here"
		return r
	}
	median := stat.Quantile(errors, 0.5)
	r.got = fmt.Sprintf("%.3f mm (%d marks, worst %.3f)", median, len(errors), stat.Quantile(errors, 1))
	r.state = check(median <= oneCircleMM)
	return r
}

// coverageRow judges small folders by chance: of 50 marks with a true coverage
// of 95 %, all lie within one time in thirteen (0.95^50 = 0.077), so the upper
// end is left out; and as few as lie within fail only when a true coverage of
// 95 % would give so few less than one time in a hundred.
func coverageRow(all []outcome) row {
	r := row{
		what:  "true error within the stated radius",
		bound: fmt.Sprintf("%.0f to %.0f %%", 100*leastCovered, 100*mostCovered),
		state: "-",
	}
	total := count(all, outcome.counts)
	if total == 0 {
		r.got = "none here"
		return r
	}
	within := count(all, func(o outcome) bool { return o.counts() && o.covered() })
	share := float64(within) / float64(total)
	r.got = fmt.Sprintf("%d of %d, %.1f %%", within, total, 100*share)
	if total < marksForUpperEnd {
		chance := distuv.Binomial{N: float64(total), P: coverage}.CDF(float64(within))
		r.got += fmt.Sprintf(" (few marks: chance of so few %.2f)", chance)
		r.state = check(share >= leastCovered || chance >= leastChance)
		return r
	}
	r.state = check(share >= leastCovered && share <= mostCovered)
	return r
}

func sideRow(all []outcome) row {
	wrong := count(all, func(o outcome) bool { return o.counts() && o.wrongSide() })
	return row{what: "inside said of an outside mark, or the reverse", got: fmt.Sprint(wrong), bound: "0", state: check(wrong == 0)}
}

func refusalRow(all []outcome) row {
	bold := photosWhere(all, outcome.overbold)
	total := photosWhere(all, func(o outcome) bool { return o.photo.Expect == photoset.Refuse })
	return row{
		what:  "photos that must be refused but were measured",
		got:   fmt.Sprintf("%d of %d", bold, total),
		bound: "0",
		state: check(bold == 0),
	}
}

// causeRow says how many refusals name the cause that the truth names. It only
// informs: of what little a refused photo shows, another cause may be as likely.
func causeRow(all []outcome) row {
	r := row{what: "refusals that name the right cause", bound: "informs", state: "-"}
	known := photosWhere(all, outcome.causeKnown)
	if known == 0 {
		r.got = "none known here"
		return r
	}
	right := known - photosWhere(all, func(o outcome) bool { return o.causeKnown() && o.code() != o.photo.Refusal })
	r.got = fmt.Sprintf("%d of %d, %.1f %%", right, known, 100*float64(right)/float64(known))
	return r
}

// failed says whether any row falls short.
func failed(rows []row) bool {
	for _, r := range rows {
		if r.state == "FAIL" {
			return true
		}
	}
	return false
}
