package spot

import (
	"cmp"
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/stat"
)

// blob is a part of the target that is darker than all that lies round it.
type blob struct {
	cells    []int   // on the coarse flat, holes filled
	contrast float64 // 1 - light just inside its edge over light just outside
	area     float64 // mm²
	compact  float64 // the largest circle within it over its area
	x, y     float64 // its middle, mm
	level    float64 // light at its edge
}

// Coarse search settings.
const (
	coarseCells    = 128  // a side: 0.13 to 0.25 mm a cell
	levels         = 18   // thresholds of light, evenly spaced in ratio
	strokeMM       = 0.28 // half of what a pen or a tape's edge is wide at most
	leastInscribed = 0.42 // mm, the circle that fits into a mark: more than where two pen strokes cross
	leastCompact   = 0.28 // inscribed circle over area; half a disc has 0.5, two discs side by side 0.5, a pen's cross 0.15
	smallestMM2    = 0.5  // a mark of 0.8 mm
	largestShare   = 0.4  // of the searched square
	largestMM2     = 80   // a mark of 10 mm; burns have 2 to 5 mm, heavy ones 7 (common practice, no source)
	leastDark      = 0.10 // contrast of the palest burn
)

// seek lists the dark blobs on the target, the most marked first.
func seek(f *ring.Fit, ink printed) (*flat, []blob) {
	extent := f.Spec.OuterRadius() + f.Spec.Index.ToMM
	p := flatten(f, 0, 0, extent, 2*extent/coarseCells)
	light := cleaned(p, ink, extent)
	s := newSeeker(p, light)
	found := make([][]blob, levels)
	inRows(levels, func(t int) {
		level := s.lowest * math.Pow(s.highest/s.lowest, (float64(t)+0.5)/levels)
		found[t] = s.atLevel().blobsBelow(level)
	})
	var families []blob
	for _, blobs := range found {
		families = merge(families, blobs)
	}
	slices.SortStableFunc(families, func(a, b blob) int { return cmp.Compare(b.weight(), a.weight()) })
	return p, families
}

// seeker is the coarse flat being searched.
type seeker struct {
	*flat
	light           []float64
	border          []bool // cells beside what is not looked at
	lowest, highest float64
	near            [][2]int // cells within half a millimetre of one
	stamp           []int    // last blob that visited a cell
	stamped         int
}

func newSeeker(p *flat, light []float64) *seeker {
	s := &seeker{flat: p, light: light, lowest: math.Inf(1), stamp: make([]int, len(light))}
	outside := newMask(p.n)
	for k, v := range light {
		if outside.in[k] = math.IsNaN(v); !outside.in[k] {
			s.lowest, s.highest = min(s.lowest, v), max(s.highest, v)
		}
	}
	s.lowest = max(s.lowest, 2e-3) // black, less than an 8-bit picture tells from nothing
	s.border = outside.grown(1.5).in
	reach := 0.5 / p.step
	for dy := -int(reach); dy <= int(reach); dy++ {
		for dx := -int(reach); dx <= int(reach); dx++ {
			if float64(dx*dx+dy*dy) <= reach*reach {
				s.near = append(s.near, [2]int{dx, dy})
			}
		}
	}
	return s
}

// weight orders blobs: how marked the edge is, how compact the form, and, less,
// how large.
func (b blob) weight() float64 { return b.contrast * b.compact * math.Pow(b.area, 0.2) }

// cleaned is the light with ring lines and cross bridged from their sides, and
// NaN on the index bar and beyond the extent.
func cleaned(p *flat, ink printed, extent float64) []float64 {
	out := slices.Clone(p.light)
	inRows(p.n, func(j int) {
		for i := range p.n {
			x, y := p.place(i, j)
			k := j*p.n + i
			switch {
			case math.Hypot(x, y) > extent || ink.onBar(x-ink.dx, y-ink.dy):
				out[k] = math.NaN()
			default:
				if v, bridged := ink.bridge(p, p.light, x, y); bridged {
					out[k] = v
				}
			}
		}
	})
	return out
}

// bridge is the value at a place on a ring line or on the cross as its two
// sides have it: linear between them, so that an edge that crosses the line is
// not pulled along it.
func (ink printed) bridge(p *flat, values []float64, x, y float64) (v float64, bridged bool) {
	s, on := ink.span(p, values, x, y)
	return s.value, on
}

// span is what a printed line hides: the value between those of its sides.
type span struct{ value, low, high float64 }

func between(a, b, t float64) span { return span{a + t*(b-a), min(a, b), max(a, b)} }

// span is false off the lines.
func (ink printed) span(p *flat, values []float64, x, y float64) (span, bool) {
	rx, ry := x-ink.dx, y-ink.dy
	r := math.Hypot(rx, ry)
	if k, half := ink.ringNear(r); k >= 0 && r > 0 {
		radius := ink.fit.Spec.RingsMM[k] / 2
		inner, outer := max(0, (radius-half)/r), (radius+half)/r
		a := p.sample(values, ink.dx+inner*rx, ink.dy+inner*ry)
		b := p.sample(values, ink.dx+outer*rx, ink.dy+outer*ry)
		return between(a, b, (r-radius+half)/(2*half)), true
	}
	half := ink.fit.Spec.LineMM/2 + ink.blur
	along := func(y float64) span { // from the left of the arm that points up to its right
		a, b := p.sample(values, ink.dx-half, y), p.sample(values, ink.dx+half, y)
		return between(a, b, (rx+half)/(2*half))
	}
	switch ink.onCross(rx, ry) {
	case 1:
		a, b := p.sample(values, x, ink.dy-half), p.sample(values, x, ink.dy+half)
		return between(a, b, (ry+half)/(2*half)), true
	case 2:
		return along(y), true
	case 3: // the four corners where the arms meet
		below, above := along(ink.dy-half), along(ink.dy+half)
		s := between(below.value, above.value, (ry+half)/(2*half))
		return span{s.value, min(below.low, above.low), max(below.high, above.high)}, true
	}
	return span{}, false
}

// sample reads values bilinearly at a place, at the nearest cell beyond the
// border.
func (p *flat) sample(values []float64, x, y float64) float64 {
	u := min(max((x-p.x0)/p.step, 0), float64(p.n-1))
	v := min(max((y-p.y0)/p.step, 0), float64(p.n-1))
	i, j := min(int(u), p.n-2), min(int(v), p.n-2)
	fx, fy := u-float64(i), v-float64(j)
	k := j*p.n + i
	a := values[k] + fx*(values[k+1]-values[k])
	b := values[k+p.n] + fx*(values[k+p.n+1]-values[k+p.n])
	return a + fy*(b-a)
}

// atLevel is a seeker of its own for one level, so that levels can be searched
// side by side.
func (s *seeker) atLevel() *seeker {
	own := *s
	own.stamp, own.stamped = make([]int, len(s.stamp)), 0
	return &own
}

// blobsBelow are the parts darker than level that stand alone: wider than a
// pen stroke, not reaching the end of what is looked at.
func (s *seeker) blobsBelow(level float64) []blob {
	dark := newMask(s.n)
	for k, v := range s.light {
		dark.in[k] = v < level // false for NaN
	}
	dark = dark.filled().opened(strokeMM / s.step)
	depth := dark.complement().distance()
	var out []blob
	for _, cells := range dark.parts() {
		area := float64(len(cells)) * s.step * s.step
		if area < smallestMM2 || area > largestMM2 || float64(len(cells)) > largestShare*float64(s.n*s.n) ||
			slices.ContainsFunc(cells, func(k int) bool { return s.border[k] }) {
			continue
		}
		r := inscribed(depth, cells) * s.step
		if r < leastInscribed || math.Pi*r*r < leastCompact*area {
			continue
		}
		b := s.describe(dark, cells, area, level)
		b.compact = math.Pi * r * r / area
		out = append(out, b)
	}
	return out
}

// inscribed is the radius in cells of the largest circle within a part.
func inscribed(depth []float64, cells []int) float64 {
	r := 0.0
	for _, k := range cells {
		r = max(r, depth[k])
	}
	return r - 0.5 // depth counts from the middle of the first cell outside
}

// describe measures a part's contrast across its edge: what lies within half
// a millimetre on either side.
func (s *seeker) describe(dark mask, cells []int, area, level float64) blob {
	b := blob{cells: cells, area: area, level: level}
	s.stamped++
	var inside, beyond []float64
	for _, k := range cells {
		x, y := s.place(k%s.n, k/s.n)
		b.x, b.y = b.x+x/float64(len(cells)), b.y+y/float64(len(cells))
		if !dark.edge(k) {
			continue
		}
		for _, d := range s.near {
			i, j := k%s.n+d[0], k/s.n+d[1]
			if i < 0 || j < 0 || i >= s.n || j >= s.n {
				continue
			}
			c := j*s.n + i
			if s.stamp[c] == s.stamped || math.IsNaN(s.light[c]) {
				continue
			}
			s.stamp[c] = s.stamped
			if dark.in[c] {
				inside = append(inside, s.light[c])
			} else {
				beyond = append(beyond, s.light[c])
			}
		}
	}
	b.contrast = 1 - stat.Median(inside)/stat.Quantile(beyond, 0.35)
	return b
}

// merge joins the blobs of one more level to the families found so far: of a
// nest of blobs the one whose edge is most marked stands for all. Two marks
// that only a paler level joins stay two.
func merge(families, level []blob) []blob {
	for _, b := range level {
		if !(b.contrast >= leastDark) {
			continue
		}
		strongest := 0.0
		for _, a := range families {
			if b.holds(a) {
				strongest = max(strongest, a.contrast)
			}
		}
		if strongest >= b.contrast {
			continue
		}
		families = slices.DeleteFunc(families, b.holds)
		families = append(families, b)
	}
	return families
}

// holds tells whether most of the other blob lies in this one. Cells are in
// rising order.
func (b blob) holds(other blob) bool {
	both := 0
	for _, k := range other.cells {
		if _, found := slices.BinarySearch(b.cells, k); found {
			both++
		}
	}
	return 2*both > len(other.cells)
}
