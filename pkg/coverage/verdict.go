package coverage

import "gonum.org/v1/gonum/stat/distuv"

// What a probability of lying within the limit is called.
const (
	Inside     = "inside"
	Outside    = "outside"
	Borderline = "borderline"
)

// Sure is the probability that a plain verdict needs, the default of ISO
// 14253-1:2017 (from memory). Larger, more verdicts are borderline; smaller, more of the
// plain ones are wrong.
const Sure = 0.95

// State names the probability of lying within the limit: Inside from Sure up,
// Outside from 1 - Sure down, else Borderline, as is NaN.
func State(probability float64) string {
	switch {
	case probability >= Sure:
		return Inside
	case 1-probability >= Sure:
		return Outside
	}
	return Borderline
}

// Conforms is the probability that a value measured as y with the standard
// uncertainty u lies within low..high, the conformance probability of JCGM
// 106:2012 for a normal distribution without other knowledge. An
// infinite bound makes it one-sided. u = 0 gives 0 or 1.
func Conforms(y, u, low, high float64) float64 {
	if u == 0 {
		if low <= y && y <= high {
			return 1
		}
		return 0
	}
	a, b := (low-y)/u, (high-y)/u
	if a > 0 { // the difference of two tails, not of two numbers near 1
		a, b = -b, -a
	}
	return max(distuv.UnitNormal.CDF(b)-distuv.UnitNormal.CDF(a), 0)
}
