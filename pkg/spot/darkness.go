package spot

import (
	"container/heap"
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/stat"
)

// darkness is the mark's field on a fine flat: 0 on tape, 1 where charred.
type darkness struct {
	*flat
	value   []float64
	trust   []float64 // 0..1: how far the light on a printed line tells the darkness there
	charred mask      // darker than half
	core    mask      // darker than half, holes filled: ash and hole belong to the mark
	support mask      // the core with its soft edge
	scatter float64   // of the darkness on the tape round the mark
}

const (
	fineCells  = 260 // a side at most
	haloMM     = 1.3 // a soft edge is looked for this far from the core
	marginMM   = 1.0 // and tape is seen for this much farther
	leastValue = 0.04
)

// newDarkness flattens the blob's surroundings and turns light into darkness:
// D = (B - L) / (B - C), B the light the tape would have without the mark, C
// that of char. nil when there is nothing to normalise by.
func newDarkness(f *ring.Fit, ink printed, coarse *flat, b blob) *darkness {
	half := math.Sqrt(b.area/math.Pi)*1.6 + haloMM + marginMM
	step := max(0.6*float64(f.Raster().Factor)/f.PxPerMM(), 2*half/fineCells)
	d := &darkness{flat: flatten(f, b.x, b.y, half, step)}
	inside := d.upsample(coarse, maskOf(coarse.n, b.cells))
	unknown := inside.grown(haloMM / step)
	tape := fill(d.bridged(ink), unknown, d.n)
	d.normalise(tape, ink.dimmed(d.flat, tape, unknown), inside)
	if d.value == nil {
		return nil
	}
	d.mend(ink)
	d.findCore(inside)
	if d.core.count() < 12 {
		return nil
	}
	d.fillBasins()
	d.findSupport()
	return d
}

// upsample takes a coarse mask to the fine grid.
func (d *darkness) upsample(coarse *flat, m mask) mask {
	out := newMask(d.n)
	for k := range out.in {
		x, y := d.place(k%d.n, k/d.n)
		i := int(math.Round((x - coarse.x0) / coarse.step))
		j := int(math.Round((y - coarse.y0) / coarse.step))
		if i >= 0 && j >= 0 && i < coarse.n && j < coarse.n {
			out.in[k] = m.in[j*coarse.n+i]
		}
	}
	return out
}

// bridged is the light with ring lines and cross bridged from their sides, and
// NaN on the index bar.
func (d *darkness) bridged(ink printed) []float64 {
	out := slices.Clone(d.light)
	inRows(d.n, func(j int) {
		for i := range d.n {
			x, y := d.place(i, j)
			k := j*d.n + i
			if ink.onBar(x-ink.dx, y-ink.dy) {
				out[k] = math.NaN()
			} else if v, ok := ink.bridge(d.flat, d.light, x, y); ok {
				out[k] = v
			}
		}
	})
	return out
}

// fill bridges the unknown cells from the known ones around them, coarse to
// fine (pull and push: each level averages what is known, then hands it down).
// Known cells keep a tenth of their own value, the rest is their neighbours':
// light is smooth, noise is not.
func fill(values []float64, unknown mask, n int) []float64 {
	weight := make([]float64, n*n)
	v := make([]float64, n*n)
	for k := range values {
		if !unknown.in[k] && !math.IsNaN(values[k]) {
			weight[k], v[k] = 0.1, values[k]
		}
	}
	pullPush(v, weight, n, n)
	return v
}

func pullPush(v, weight []float64, w, h int) {
	if w <= 2 && h <= 2 {
		settleSmall(v, weight)
		return
	}
	cw, ch := (w+1)/2, (h+1)/2
	cv, cweight := make([]float64, cw*ch), make([]float64, cw*ch)
	for y := range h {
		for x := range w {
			k, c := y*w+x, (y/2)*cw+x/2
			cv[c] += weight[k] * v[k]
			cweight[c] += weight[k]
		}
	}
	for c := range cv {
		if cweight[c] > 0 {
			cv[c] /= cweight[c]
			cweight[c] = min(1, cweight[c])
		}
	}
	pullPush(cv, cweight, cw, ch)
	for y := range h {
		for x := range w {
			k := y*w + x
			if weight[k] < 1 {
				v[k] = weight[k]*v[k] + (1-weight[k])*bilinear(cv, cw, ch, (float64(x)+0.5)/2-0.5, (float64(y)+0.5)/2-0.5)
			}
		}
	}
}

// settleSmall gives unknown cells of the last level the mean of the known.
func settleSmall(v, weight []float64) {
	sum, n := 0.0, 0.0
	for k := range v {
		sum += weight[k] * v[k]
		n += weight[k]
	}
	for k := range v {
		if weight[k] == 0 && n > 0 {
			v[k] = sum / n
		}
	}
}

func bilinear(v []float64, w, h int, x, y float64) float64 {
	x, y = min(max(x, 0), float64(w-1)), min(max(y, 0), float64(h-1))
	i, j := min(int(x), max(0, w-2)), min(int(y), max(0, h-2))
	i1, j1 := min(i+1, w-1), min(j+1, h-1)
	fx, fy := x-float64(i), y-float64(j)
	a := v[j*w+i]*(1-fx) + v[j*w+i1]*fx
	b := v[j1*w+i]*(1-fx) + v[j1*w+i1]*fx
	return a*(1-fy) + b*fy
}

// normalise sets the darkness from what the light would be without the mark:
// that of the tape, and the same with the printed lines on it (background).
func (d *darkness) normalise(plain, background []float64, inside mask) {
	var char, tape []float64
	for k, in := range inside.in {
		if in && !math.IsNaN(d.light[k]) {
			char = append(char, d.light[k])
			tape = append(tape, background[k])
		}
	}
	if len(char) == 0 {
		return
	}
	c := stat.Quantile(char, 0.2) // ash and holes are lighter; a fifth of a mark is char
	contrast := stat.Median(tape) - c
	if contrast <= 0.02*c {
		return
	}
	d.value, d.trust = make([]float64, len(d.light)), make([]float64, len(d.light))
	for k, l := range d.light {
		d.trust[k] = ramp((background[k]-c)/max(plain[k]-c, 0.2*contrast), 0.35, 0.75)
		v := (background[k] - l) / max(background[k]-c, 0.2*contrast)
		if !math.IsNaN(v) {
			d.value[k] = max(-1, min(1, v))
		}
	}
}

// ramp rises from 0 at a to 1 at b.
func ramp(v, a, b float64) float64 { return max(0, min(1, (v-a)/(b-a))) }

// mend bridges the darkness over lines that are themselves so dark that a burn
// hardly shows on them: from the two sides of the line, as far as the line's
// own light cannot be trusted.
func (d *darkness) mend(ink printed) {
	before := slices.Clone(d.value)
	inRows(d.n, func(j int) {
		for i := range d.n {
			k := j*d.n + i
			if !(d.trust[k] < 1) {
				continue
			}
			x, y := d.place(i, j)
			if v, ok := ink.bridge(d.flat, before, x, y); ok {
				d.value[k] = d.trust[k]*before[k] + (1-d.trust[k])*v
			}
		}
	})
}

// findCore is the part darker than half that lies in the blob, with its holes.
func (d *darkness) findCore(inside mask) {
	dark := newMask(d.n)
	for k, v := range d.value {
		dark.in[k] = v > 0.5
	}
	closed := dark.grown(0.12 / d.step).complement().grown(0.12 / d.step).complement() // a crack in a ring of char
	solid := closed.filled().opened(strokeMM / d.step)
	var best []int
	bestN := 0
	for _, cells := range solid.parts() {
		n := 0
		for _, k := range cells {
			if inside.in[k] {
				n++
			}
		}
		if n > bestN {
			best, bestN = cells, n
		}
	}
	d.core, d.charred = maskOf(d.n, best), newMask(d.n)
	for k, in := range d.core.in {
		d.charred.in[k] = in && dark.in[k]
	}
}

// fillBasins raises every paler basin inside the mark (ash, a hole burnt
// through) to the darkness of the lowest way out of it, so that it counts as
// dark. (Priority flood: R. Barnes, C. Lehman, D. Mulla, Computers &
// Geosciences 62 (2014) 117.)
func (d *darkness) fillBasins() {
	q := &byDarkness{}
	done := make([]bool, len(d.value))
	push := func(k int, v float64) {
		done[k] = true
		heap.Push(q, basin{k, v})
	}
	for i := range d.n {
		for _, k := range [4]int{i, (d.n-1)*d.n + i, i * d.n, i*d.n + d.n - 1} {
			if !done[k] {
				push(k, d.value[k])
			}
		}
	}
	for q.Len() > 0 {
		c := heap.Pop(q).(basin)
		for _, k := range [4]int{c.k - 1, c.k + 1, c.k - d.n, c.k + d.n} {
			if k < 0 || k >= len(done) || done[k] {
				continue
			}
			if d.core.in[k] {
				d.value[k] = max(d.value[k], c.v)
			}
			push(k, d.value[k])
		}
	}
}

type basin struct {
	k int
	v float64
}

// byDarkness is a heap, palest first.
type byDarkness []basin

func (q byDarkness) Len() int           { return len(q) }
func (q byDarkness) Less(i, j int) bool { return q[i].v < q[j].v }
func (q byDarkness) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *byDarkness) Push(x any)        { *q = append(*q, x.(basin)) }
func (q *byDarkness) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}

// findSupport grows the core as far as the mean darkness round it stays above
// the tape's, and takes what stands out beyond (strokes, tape edges) down to
// that mean.
func (d *darkness) findSupport() {
	dist := d.core.distance()
	bins := int(haloMM/d.step) + 1
	byDistance := make([][]float64, bins+1)
	var tape []float64
	for k, r := range dist {
		if d.core.in[k] {
			continue
		}
		if b := int(r); b <= bins {
			byDistance[b] = append(byDistance[b], d.value[k])
		} else if r*d.step < haloMM+0.6*marginMM {
			tape = append(tape, d.value[k])
		}
	}
	zero := stat.Median(tape)
	d.scatter = stat.MAD(tape)
	reach := bins
	profile := make([]float64, bins+1)
	for b, v := range byDistance {
		profile[b] = stat.Median(v) - zero
		if b > 0 && profile[b] < leastValue && reach == bins {
			reach = b
		}
	}
	d.support = newMask(d.n)
	for k, r := range dist {
		if d.core.in[k] {
			d.support.in[k] = true
			continue
		}
		if b := int(r); b <= reach {
			d.support.in[k] = true
			d.value[k] = max(0, min(d.value[k]-zero, 2*profile[b]+3*d.scatter))
		} else {
			d.value[k] = 0
		}
	}
}

// charAbove is the darkness from which on it counts. Round the char lies a
// scorched fringe, often drawn out to one side by the air assist or by the
// tape's grain; the beam is where the char is. Darkness below a half is left
// out, above it counts in proportion.
const charAbove = 0.5

// char are the moments of the darkness above charAbove: the mark's position.
func (d *darkness) char() moment { return d.above(charAbove) }

// above are the moments of what is darker than level, in proportion.
func (d *darkness) above(level float64) moment {
	return d.weighted(func(k int) float64 {
		if !d.support.in[k] {
			return 0
		}
		return max(0, d.value[k]-level)
	})
}

// darkerThan are the moments of the region darker than level.
func (d *darkness) darkerThan(level float64) moment {
	return d.weighted(func(k int) float64 {
		if d.support.in[k] && d.value[k] > level {
			return 1
		}
		return 0
	})
}

// weighted are the moments of any weight on the grid.
func (d *darkness) weighted(weight func(k int) float64) moment {
	var m moment
	cell := d.step * d.step
	for k := range d.value {
		w := weight(k)
		if w == 0 {
			continue
		}
		x, y := d.place(k%d.n, k/d.n)
		m.area += w
		m.x += w * x
		m.y += w * y
		m.xx += w * x * x
		m.yy += w * y * y
		m.xy += w * x * y
	}
	m.x, m.y = m.x/m.area, m.y/m.area
	m.xx, m.yy, m.xy = m.xx/m.area-m.x*m.x, m.yy/m.area-m.y*m.y, m.xy/m.area-m.x*m.y
	m.area *= cell
	return m
}

// edgeChoice is the standard uncertainty per axis from what counts as the
// mark: the root mean square distance, over the axes, of the centres that
// other sensible choices give.
func (d *darkness) edgeChoice(m moment) float64 {
	others := []moment{d.above(sizeAbove), d.above(0.25), d.darkerThan(0.5), d.darkerThan(0.75)}
	sum := 0.0
	for _, o := range others {
		sum += (o.x-m.x)*(o.x-m.x) + (o.y-m.y)*(o.y-m.y)
	}
	return math.Sqrt(sum / 2 / float64(len(others)))
}

// noise is the standard uncertainty of the centre from the scatter of
// darkness over the soft edge, correlated over texMM.
func (d *darkness) noise(m moment) float64 {
	const texMM = 0.25 // grain of crepe tape and of a phone's smoothing
	sum := 0.0
	for k, in := range d.support.in {
		if in && !d.core.in[k] {
			x, y := d.place(k%d.n, k/d.n)
			sum += (x-m.x)*(x-m.x) + (y-m.y)*(y-m.y)
		}
	}
	cells := math.Max(1, math.Pi*texMM*texMM/(d.step*d.step)) // share one error
	return d.scatter * math.Sqrt(sum/2*cells) * d.step * d.step / m.area
}

// shine is the share of the mark's surroundings, so many mm wide, that is burnt out in all
// colours; 0 when the tape itself is. Printed lines may be white.
func (d *darkness) shine(ink printed, within float64) float64 {
	bright, n := 0, 0
	for k, r := range d.core.distance() {
		if r == 0 || r*d.step > within {
			continue
		}
		x, y := d.place(k%d.n, k/d.n)
		if _, _, line := ink.lineAt(x-ink.dx, y-ink.dy); line {
			continue
		}
		n++
		if d.colour[0][k] > burntOut && d.colour[1][k] > burntOut && d.colour[2][k] > burntOut {
			bright++
		}
	}
	share := float64(bright) / float64(max(n, 1))
	if share > 0.6 {
		return 0
	}
	return share
}

// Shine beside a mark hides its edge on one side and pulls its centre away.
const (
	shineMM    = 0.9
	veilMM     = 2.2  // shine farther off still lays a veil over one side of the mark,
	veiledEdge = 0.04 // which shows in its edge being uncertain by this, mm
	burntOut   = 0.93 // linear light
	mostShine  = 0.06
	anyShine   = 0.005
)

// outline is the half-darkness contour: the core's border cells in order of
// direction from its middle.
func (d *darkness) outline() [][2]float64 {
	border := d.core.complement().grown(1)
	type point struct{ angle, x, y float64 }
	var all []point
	m := d.char()
	for k, in := range d.core.in {
		if in && border.in[k] {
			x, y := d.place(k%d.n, k/d.n)
			all = append(all, point{math.Atan2(y-m.y, x-m.x), x, y})
		}
	}
	slices.SortFunc(all, func(a, b point) int {
		if a.angle < b.angle {
			return -1
		} else if a.angle > b.angle {
			return 1
		}
		return 0
	})
	out := make([][2]float64, len(all))
	for i, p := range all {
		out[i] = [2]float64{p.x, p.y}
	}
	return out
}
