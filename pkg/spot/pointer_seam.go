package spot

import (
	"cmp"
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/stat"
)

// What is accepted as a seam.
const (
	seamTurns    = 48   // directions that are tried in half a turn, 3.75 degrees
	seamFine     = 12   // and again between two neighbours of the best
	seamSamples  = 900  // cells that are looked at, about
	leastSide    = 0.04 // of the cells on the lesser side
	leastStep    = 0.06 // between the two grounds, of the lighter one, in the colour that shows it best
	stepScatters = 3.0  // likewise, over the ground's scatter beside the seam
	evenStep     = 0.4  // of the step at one end over that at the other
	steepStep    = 0.6  // of the step close to the seam over that of the whole sides: a light that falls off has less
	mostMisfits  = 0.08 // of the cells beside the seam that look like the other side: a round burn or a torn end has more
	nearSeamMM   = 0.8  // what counts as beside the seam
	seamShadowMM = 0.15 // a tape's edge throws a shadow about as wide as tape is thick
	leastOther   = 0.15 // light of the darker ground over that of the lighter: char has less
)

// seam is a straight edge between two grounds, mostly of a tape's, of whatever
// colours: places with right cos + up sin > off lie on the dot's own ground.
type seam struct {
	cos, sin, off float64
	margin        float64 // mm to either side that belong to neither ground
}

// side is the distance of a place from the seam, mm: positive on the dot's own
// ground. Without a seam all is.
func (s *seam) side(x, y float64) float64 {
	if s == nil {
		return math.Inf(1)
	}
	return x*s.cos + y*s.sin - s.off
}

// clear tells whether a place lies on one ground alone.
func (s *seam) clear(x, y float64) bool {
	return s == nil || math.Abs(s.side(x, y)) > s.margin
}

// patch is a cell beyond the dot's light: where it lies and its three colours,
// of the usual one's.
type patch struct {
	x, y   float64
	colour [3]float64
}

// findSeam looks for the seam about a dot: what lies beyond its light must part
// into two grounds on either side of a straight line. nil when it does not.
func (g *glow) findSeam(bridged [3][]float64, x, y, blur float64) *seam {
	all := g.patches(bridged, x, y)
	if len(all) < 100 {
		return nil
	}
	var best seam
	most := 0.0
	try := func(turn float64) {
		s, c := math.Sincos(turn)
		if off, between := split(all, c, s); between > most {
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
	best.margin = seamShadowMM + blur + g.step/2
	if best.side(x, y) < 0 {
		best.cos, best.sin, best.off = -best.cos, -best.sin, -best.off
	}
	if most == 0 || !best.isSeam(all, x, y) {
		return nil
	}
	return &best
}

// patches are cells beyond the dot's light, evenly thinned out, char left out.
func (g *glow) patches(bridged [3][]float64, x, y float64) []patch {
	var usual [3]float64
	var cells []int
	for k := range g.light {
		i, j := g.place(k%g.n, k/g.n)
		if math.Hypot(i-x, j-y) > g.reach && !math.IsNaN(bridged[0][k]) {
			cells = append(cells, k)
		}
	}
	for c := range usual {
		v := make([]float64, len(cells))
		for i, k := range cells {
			v[i] = bridged[c][k]
		}
		usual[c] = max(stat.Median(v), leastLight)
	}
	stride := max(1, int(math.Sqrt(float64(len(cells))/seamSamples)))
	var all []patch
	for _, k := range cells {
		if (k%g.n)%stride != 0 || (k/g.n)%stride != 0 {
			continue
		}
		p := patch{}
		p.x, p.y = g.place(k%g.n, k/g.n)
		light := 0.0
		for c := range usual {
			p.colour[c] = bridged[c][k] / usual[c]
			light = max(light, p.colour[c])
		}
		if light > leastOther {
			all = append(all, p)
		}
	}
	return all
}

// split is where along a direction the patches part best into two, and the sum
// of squares between the two (Fisher's and Otsu's criterion [M]).
func split(all []patch, cos, sin float64) (off, between float64) {
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

// isSeam tells a seam from light that falls off, from writing and from burns: it
// is sharp, shows on either side of the dot alike, and parts all that lies
// beside it.
func (s *seam) isSeam(all []patch, x, y float64) bool {
	best, step := 0, 0.0
	var whole [2]float64
	for c := range 3 {
		own, other := s.levels(all, c, math.Inf(1), func(patch) bool { return true })
		if v := math.Abs(own-other) / max(own, other); v > step {
			best, step, whole = c, v, [2]float64{own, other}
		}
	}
	if !(step > leastStep) || min(whole[0], whole[1]) < leastOther*max(whole[0], whole[1]) {
		return false
	}
	own, other := s.levels(all, best, nearSeamMM, func(patch) bool { return true })
	if !((own-other)/(whole[0]-whole[1]) > steepStep) {
		return false
	}
	along := func(p patch) float64 { return p.y*s.cos - p.x*s.sin }
	var ats []float64
	for _, p := range all {
		if d := math.Abs(s.side(p.x, p.y)); d > s.margin && d < nearSeamMM {
			ats = append(ats, along(p))
		}
	}
	middle := stat.Median(ats)
	var ends [2]float64
	for i, sign := range []float64{-1, 1} {
		a, b := s.levels(all, best, nearSeamMM, func(p patch) bool { return sign*(along(p)-middle) > 0 })
		ends[i] = (a - b) / (own - other)
	}
	if !(min(ends[0], ends[1]) > evenStep*max(ends[0], ends[1])) {
		return false
	}
	return s.misfits(all, best, own, other) < mostMisfits
}

// levels are the medians of a colour on both sides within a distance of the
// seam, of the patches that are wanted.
func (s *seam) levels(all []patch, c int, within float64, wanted func(patch) bool) (own, other float64) {
	var v [2][]float64
	for _, p := range all {
		d := s.side(p.x, p.y)
		if math.Abs(d) < s.margin || math.Abs(d) > within || !wanted(p) {
			continue
		}
		i := 0
		if d < 0 {
			i = 1
		}
		v[i] = append(v[i], p.colour[c])
	}
	return stat.Median(v[0]), stat.Median(v[1])
}

// misfits is the share of the patches beside the seam that are more like the
// other side; 1 when the sides scatter too much to tell.
func (s *seam) misfits(all []patch, c int, own, other float64) float64 {
	wrong, n := 0, 0
	var off []float64
	for _, p := range all {
		d := s.side(p.x, p.y)
		if math.Abs(d) < s.margin || math.Abs(d) > nearSeamMM {
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
	if n == 0 || math.Abs(own-other) < stepScatters*stat.MAD(off) {
		return 1
	}
	return float64(wrong) / float64(n)
}
