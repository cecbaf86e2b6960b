package spot

import (
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
	hidden  []hiddenCell
	dark    float64   // light below which a cell is as dark as the mark
	away    []float64 // cells from the core, once asked for
}

// fromCore is each cell's distance from the core, in cells. The core must be
// found before.
func (d *darkness) fromCore() []float64 {
	if d.away == nil {
		d.away = d.core.distance()
	}
	return d.away
}

const (
	fineCells = 260 // a side at most
	haloMM    = 1.3 // a soft edge is looked for this far from the core
	marginMM  = 1.0 // and tape is seen for this much farther
)

// leastValue is the darkness, in the median of a ring of tape about the core, at
// which the soft edge ends. Beyond it such medians stray by 0.03 from the tape's
// own in simulated photos, which is its texture (three quarters of 145 marks stay
// below 0.034). The edge ends 0.7 mm from the core in the median mark; at half the
// value 0.84, at twice 0.49. The mark's size follows, and hardly its position,
// which charAbove decides.
const leastValue = 0.04

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
	background, unlearnt := ink.dimmed(d.flat, tape, unknown)
	d.normalise(tape, background, inside)
	if d.value == nil {
		return nil
	}
	for k, in := range unlearnt.in {
		if in {
			d.trust[k] = 0
		}
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
	d.dark = c + asDark*contrast
	through := d.showsThrough(plain, background, inside)
	d.value, d.trust = make([]float64, len(d.light)), make([]float64, len(d.light))
	for k, l := range d.light {
		d.trust[k] = ramp((background[k]-c)/max(plain[k]-c, 0.2*contrast), 0.35, 0.75)
		full := c * (1 + through*max(0, background[k]/plain[k]-1))
		v := (background[k] - l) / max(background[k]-full, 0.2*contrast)
		if !math.IsNaN(v) {
			d.value[k] = max(-1, min(1, v))
		}
	}
}

// showsThrough is how much of a light line is seen through the mark: 0 under
// char, 1 where a pale scorch dims line and tape alike. 0 where no line crosses.
func (d *darkness) showsThrough(plain, background []float64, inside mask) float64 {
	const (
		// lighter than the tape: the line's middle, not its faint edge. Of what is
		// lighter at all, the 95th of 100 cells has at most 1.01 beside dark lines and
		// 1.16 and more on light ones, about 57 marks of simulated photos.
		lighter = 1.1
		// enough cells to take a median of: a line that crosses the mark has 150 and
		// more in the same photos, one that only touches it up to 8.
		enough = 20
	)
	var beside []float64
	for k, in := range inside.in {
		if in && background[k] == plain[k] && !math.IsNaN(d.light[k]) {
			beside = append(beside, d.light[k])
		}
	}
	mark := stat.Median(beside)
	var seen []float64
	for k, in := range inside.in {
		if gain := background[k] / plain[k]; in && gain > lighter && !math.IsNaN(d.light[k]) {
			seen = append(seen, (d.light[k]/mark-1)/(gain-1))
		}
	}
	if len(beside) < enough || len(seen) < enough {
		return 0
	}
	return max(0, min(1, stat.Median(seen)))
}

// asDark is how far from char's light to the tape's a cell is as dark as char. A
// black plate beside the tape is about as dark as char, a scorched fringe is
// not: about 123 burns of simulated photos no cell came below 0.25, one in a
// thousand of one burn's below 0.35, one in a hundred below 0.5.
const asDark = 0.25

// ramp rises from 0 at a to 1 at b.
func ramp(v, a, b float64) float64 { return max(0, min(1, (v-a)/(b-a))) }

// mend bridges the darkness over lines that are themselves so dark that a burn
// hardly shows on them: from the two sides of the line, as far as the line's
// own light cannot be trusted.
func (d *darkness) mend(ink printed) {
	before := slices.Clone(d.value)
	rows := make([][]hiddenCell, d.n)
	inRows(d.n, func(j int) {
		for i := range d.n {
			k := j*d.n + i
			if !(d.trust[k] < 1) {
				continue
			}
			x, y := d.place(i, j)
			if s, ok := ink.span(d.flat, before, x, y); ok {
				seen := func(v float64) float64 { return d.trust[k]*before[k] + (1-d.trust[k])*v }
				d.value[k] = seen(s.value)
				rows[j] = append(rows[j], hiddenCell{k, seen(s.low), seen(s.high)})
			}
		}
	})
	d.hidden = slices.Concat(rows...)
}

// crackMM is half the width of what may part a ring of char and leave its inside
// a hole. It must stay below half of a pen's line, or letters close. Simulated
// burns have no cracks: any value from 0 to 0.2 gives 123 of them the same core
// to 2 %, so it rests on common sense and not on photos.
const crackMM = 0.12

// findCore is the part darker than half that lies in the blob, with its holes.
func (d *darkness) findCore(inside mask) {
	dark := newMask(d.n)
	for k, v := range d.value {
		dark.in[k] = v > 0.5
	}
	closed := dark.grown(crackMM / d.step).complement().grown(crackMM / d.step).complement()
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

// findSupport grows the core as far as the mean darkness round it stays above
// the tape's, and takes what stands out beyond (strokes, tape edges) down to
// that mean.
func (d *darkness) findSupport() {
	dist := d.fromCore()
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
