package pointer

import (
	"cmp"
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/stat"
)

// seam is a straight edge between two grounds, mostly of a tape's, of whatever
// colours: places with right cos + up sin > off lie on the dot's own ground.
type seam struct {
	cos, sin, off float64
	margin        float64 // mm to either side that belong to neither ground
}

// from is the distance of a place from the seam, mm: positive on the dot's own
// ground. Without a seam all is.
func (s *seam) from(x, y float64) float64 {
	if s == nil {
		return math.Inf(1)
	}
	return x*s.cos + y*s.sin - s.off
}

// clear says whether a place lies on one ground alone.
func (s *seam) clear(x, y float64) bool {
	return s == nil || math.Abs(s.from(x, y)) > s.margin
}

// patch is a cell beyond the dot's light: where it lies, mm, and its three
// colours, each over the usual one's.
type patch struct {
	x, y   float64
	colour [3]float64
}

// Directions in which a seam is looked for.
const (
	seamTurns = 48 // in half a turn, 3.75 degrees apart
	seamFine  = 12 // and again between the best and its neighbours, 0.3 degrees
)

// findSeam looks for the seam about a dot: what lies beyond its light must part
// into two grounds on either side of a straight line. nil when it does not.
func (g *ground) findSeam(bridged [3][]float64, x, y, blur float64) *seam {
	all := g.patches(bridged, x, y)
	if g.log.Below("pointer.LeastCells", float64(len(all)), float64(g.set.LeastCells), "no tape's edge is looked for") {
		return nil
	}
	best, most := g.bestSplit(all)
	best.margin = g.set.SeamShadowMM + blur + g.Step/2
	if best.from(x, y) < 0 {
		best.cos, best.sin, best.off = -best.cos, -best.sin, -best.off
	}
	if most == 0 || !(&seamTest{&best, all, g.set, g.log}).passes() {
		return nil
	}
	return &best
}

// bestSplit is the line that separates the patches best, and how well.
func (g *ground) bestSplit(all []patch) (best seam, most float64) {
	try := func(turn float64) {
		s, c := math.Sincos(turn)
		if off, between := split(all, c, s, g.set.LeastSide); between > most {
			best, most = seam{cos: c, sin: s, off: off}, between
		}
	}
	for i := range seamTurns {
		try(math.Pi * float64(i) / seamTurns)
	}
	middle := math.Atan2(best.sin, best.cos)
	for i := range 2*seamFine + 1 {
		try(middle + math.Pi/seamTurns*(float64(i)/seamFine-1))
	}
	return best, most
}

// patches are cells beyond the dot's light, evenly thinned out, char left out.
func (g *ground) patches(bridged [3][]float64, x, y float64) []patch {
	var usual [3]float64
	var beyond []int
	for k := range g.Light {
		i, j := g.Centre(k)
		if math.Hypot(i-x, j-y) > g.reach && !math.IsNaN(bridged[0][k]) {
			beyond = append(beyond, k)
		}
	}
	for c := range usual {
		v := make([]float64, len(beyond))
		for i, k := range beyond {
			v[i] = bridged[c][k]
		}
		usual[c] = max(stat.Median(v), g.set.LeastLight)
	}
	stride := max(1, int(math.Sqrt(float64(len(beyond))/float64(g.set.SeamCells))))
	var all []patch
	for _, k := range beyond {
		if (k%g.N)%stride != 0 || (k/g.N)%stride != 0 {
			continue
		}
		p := patch{}
		p.x, p.y = g.Centre(k)
		light := 0.0
		for c := range usual {
			p.colour[c] = bridged[c][k] / usual[c]
			light = max(light, p.colour[c])
		}
		if light > g.set.LeastOther {
			all = append(all, p)
		}
	}
	return all
}

// split is where along a direction the patches part best into two, and the sum
// of squares between the two there: with m patches of mean a on one side and
// n - m of mean b on the other,
//
//	m (n - m) / n Σ over colours of (a - b)²
//
// (N. Otsu, "A threshold selection method from gray-level histograms", IEEE
// Trans. SMC 9 (1979) 62, after Fisher's criterion; from memory). The lesser side
// has at least a share of the patches.
func split(all []patch, cos, sin, leastSide float64) (off, between float64) {
	type placed struct {
		at     float64
		colour [3]float64
	}
	row := make([]placed, len(all))
	var sum [3]float64
	for i, p := range all {
		row[i] = placed{p.x*cos + p.y*sin, p.colour}
		for c := range sum {
			sum[c] += p.colour[c]
		}
	}
	slices.SortFunc(row, func(a, b placed) int { return cmp.Compare(a.at, b.at) })
	n := float64(len(row))
	var low [3]float64
	for i := range len(row) - 1 {
		for c := range low {
			low[c] += row[i].colour[c]
		}
		m := float64(i + 1)
		if m < leastSide*n || n-m < leastSide*n {
			continue
		}
		v := 0.0
		for c := range low {
			v += m * (n - m) / n * square(low[c]/m-(sum[c]-low[c])/(n-m))
		}
		if v > between {
			off, between = (row[i].at+row[i+1].at)/2, v
		}
	}
	return off, between
}

// seamTest distinguishes a seam from light that falls off, from writing and from
// burns: it is sharp, shows on either side of the dot alike, and separates all that
// lies beside it.
type seamTest struct {
	*seam
	all []patch
	set *Settings
	log *decision.Log
}

// Own and other are medians of one colour on the two sides. A seam's step own -
// other is there in the whole sides, in the strip of NearSeamMM beside it, and in
// each half of that strip. Light that falls off has its step in the whole sides
// only; a burn or a letter has it in one half of the strip, or leaves misfits.

// passes says whether the line is a seam.
func (t *seamTest) passes() bool {
	colour, step, whole := t.bestColour()
	if !t.log.Above("pointer.LeastStep", step, t.set.LeastStep, "the two sides of a line differ") ||
		t.log.Below("pointer.LeastOther", min(whole[0], whole[1])/max(whole[0], whole[1]), t.set.LeastOther, "no tape's edge: one side is char or black") {
		return false
	}
	own, other := t.levels(colour, t.set.NearSeamMM, everywhere)
	return t.log.Above("pointer.SteepStep", (own-other)/(whole[0]-whole[1]), t.set.SteepStep, "they differ close to it") &&
		t.log.Above("pointer.EvenStep", t.evenness(colour, own, other), t.set.EvenStep, "they differ at both its ends") &&
		t.log.Below("pointer.MostMisfits", t.misfits(colour, own, other), t.set.MostMisfits, "the line is a tape's edge")
}

// bestColour is the colour that shows the seam best, its step over the lighter
// side's light, and the levels of the two whole sides.
func (t *seamTest) bestColour() (colour int, step float64, whole [2]float64) {
	for c := range 3 {
		own, other := t.levels(c, math.Inf(1), everywhere)
		if v := math.Abs(own-other) / max(own, other); v > step {
			colour, step, whole = c, v, [2]float64{own, other}
		}
	}
	return colour, step, whole
}

func everywhere(patch) bool { return true }

// levels are the medians of a colour on both sides within a distance of the
// seam, mm, of the patches that are wanted.
func (t *seamTest) levels(c int, within float64, wanted func(patch) bool) (own, other float64) {
	var v [2][]float64
	for _, p := range t.all {
		d := t.from(p.x, p.y)
		if math.Abs(d) < t.margin || math.Abs(d) > within || !wanted(p) {
			continue
		}
		i := ownSide
		if d < 0 {
			i = beyondSeam
		}
		v[i] = append(v[i], p.colour[c])
	}
	return stat.Median(v[0]), stat.Median(v[1])
}

// evenness is the step at one end of the seam over that at the other, the lesser
// over the greater; 0 when neither end has the step's sign.
func (t *seamTest) evenness(c int, own, other float64) float64 {
	along := func(p patch) float64 { return p.y*t.cos - p.x*t.sin }
	var ats []float64
	for _, p := range t.all {
		if d := math.Abs(t.from(p.x, p.y)); d > t.margin && d < t.set.NearSeamMM {
			ats = append(ats, along(p))
		}
	}
	middle := stat.Median(ats)
	var ends [2]float64
	for i, sign := range []float64{-1, 1} {
		a, b := t.levels(c, t.set.NearSeamMM, func(p patch) bool { return sign*(along(p)-middle) > 0 })
		ends[i] = (a - b) / (own - other)
	}
	if !(max(ends[0], ends[1]) > 0) {
		return 0
	}
	return min(ends[0], ends[1]) / max(ends[0], ends[1])
}

// misfits is the share of the patches beside the seam that are more like the
// other side; 1 when the sides scatter too much to know.
func (t *seamTest) misfits(c int, own, other float64) float64 {
	wrong, n := 0, 0
	var off []float64
	for _, p := range t.all {
		d := t.from(p.x, p.y)
		if math.Abs(d) < t.margin || math.Abs(d) > t.set.NearSeamMM {
			continue
		}
		mine, its := own, other
		if d < 0 {
			mine, its = other, own
		}
		n++
		if math.Abs(p.colour[c]-mine) > math.Abs(p.colour[c]-its) {
			wrong++
		}
		off = append(off, p.colour[c]-mine)
	}
	if n == 0 || t.log.Below("pointer.StepScatters", math.Abs(own-other)/stat.MAD(off), t.set.StepScatters, "no tape's edge: the sides scatter too much") {
		return 1
	}
	return float64(wrong) / float64(n)
}
