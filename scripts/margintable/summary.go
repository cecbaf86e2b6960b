package main

import (
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/stat"
)

// fewCases is the number of cases of a kind below which a limit rests on too little.
// With 30, the 95 % interval of a share of 0 ends at 10 % (the rule of three: 3/n).
const fewCases = 30

// limitKey is what is one limit: its name, which way it compares and what follows.
type limitKey struct{ name, test, then string }

// limit is all that was seen of one limit.
type limit struct {
	limitKey
	value  float64 // of the limit; NaN when it was not always the same
	unit   string  // "" for values as they are, relativeUnit for parts of the limit
	sides  []side  // one for each kind that was seen
	tally  bool    // its cases stand for several things each: the nearest of them
	mixed  float64 // see mixed
	noKind int     // cases left out
}

// relativeUnit says that values are divided by a limit that is not always the same.
const relativeUnit = "x limit"

// side is what was seen of one kind.
type side struct {
	kind       kind
	cases      int
	holding    int // those for which the test holds
	nothing    int // those with nothing to measure, which are in no quantile
	values     []float64
	nearest    float64 // least distance from the limit, as a part of it; NaN when there is none
	nearestIn  string  // that photo
	nearestVal float64
}

// values of all kinds that a limit should keep, or of all others.
func (l limit) values(kept bool) (out []float64) {
	for _, s := range l.sides {
		if good[s.kind] == kept {
			out = append(out, s.values...)
		}
	}
	return out
}

// few says whether the limit rests on few cases of a kind, or on one kind alone.
func (l limit) few() bool {
	for _, s := range l.sides {
		if s.cases-s.nothing < fewCases {
			return true
		}
	}
	return len(l.values(true)) == 0 || len(l.values(false)) == 0
}

// summarize brings cases together by limit, in the order of their first case.
func summarize(cases []limitCase) []limit {
	var order []limitKey
	of := map[limitKey][]limitCase{}
	for _, c := range cases {
		key := limitKey{c.Name, c.Test, c.Then}
		if of[key] == nil {
			order = append(order, key)
		}
		of[key] = append(of[key], c)
	}
	var out []limit
	for _, key := range order {
		out = append(out, newLimit(key, of[key]))
	}
	return out
}

func newLimit(key limitKey, cases []limitCase) limit {
	l := limit{limitKey: key, value: cases[0].Limit}
	for _, c := range cases {
		if c.Limit != l.value {
			l.value, l.unit = math.NaN(), relativeUnit
		}
		l.tally = l.tally || c.Of > 1
		if c.kind == noKind {
			l.noKind++
		}
	}
	for _, k := range kinds {
		if s := l.side(k, cases); s.cases > 0 {
			l.sides = append(l.sides, s)
		}
	}
	l.mixed = mixed(l.values(true), l.values(false))
	return l
}

// side gathers the cases of one kind.
func (l limit) side(k kind, cases []limitCase) side {
	s := side{kind: k, nearest: math.NaN(), nearestVal: math.NaN()}
	for _, c := range cases {
		if c.kind != k {
			continue
		}
		s.cases++
		if c.Holding > 0 {
			s.holding++
		}
		v := c.value()
		if math.IsNaN(v) {
			s.nothing++
			continue
		}
		away := apart(v, c.Limit)
		if l.unit == relativeUnit {
			v /= c.Limit
		}
		s.values = append(s.values, v)
		if math.IsNaN(s.nearest) || away < s.nearest {
			s.nearest, s.nearestIn, s.nearestVal = away, c.photo, v
		}
	}
	slices.Sort(s.values)
	return s
}

// apart is how far a value lies from a limit, as a part of the limit; of a limit of 0
// the distance itself.
func apart(value, limit float64) float64 {
	if limit == 0 {
		return math.Abs(value)
	}
	return math.Abs(value-limit) / math.Abs(limit)
}

// quantiles that are printed.
var quantiles = []float64{0, 0.05, 0.5, 0.95, 1}

// spread are the side's quantiles; NaN of nothing.
func (s side) spread() []float64 {
	out := make([]float64, len(quantiles))
	for i, q := range quantiles {
		out[i] = stat.Quantile(s.values, q)
	}
	return out
}

// mixed is how much two kinds overlap, whatever the limit: of all pairs of one case
// of each, the share in the rarer order, ties counted half. 0: all of one kind lie
// below all of the other; 0.5: the value does not distinguish them. It is the smaller
// of Mann and Whitney's U and its complement over the number of pairs (Annals of
// Mathematical Statistics 18, 1947, page 50). NaN when a kind has no values.
func mixed(a, b []float64) float64 {
	if len(a) == 0 || len(b) == 0 {
		return math.NaN()
	}
	b = slices.Sorted(slices.Values(b))
	below := 0.0 // pairs in which b's lies below a's
	for _, v := range a {
		from, _ := slices.BinarySearch(b, v)
		to := from
		for to < len(b) && b[to] == v {
			to++
		}
		below += float64(from) + float64(to-from)/2
	}
	share := below / (float64(len(a)) * float64(len(b)))
	return min(share, 1-share)
}
