package pointer

import (
	"math"

	"burngauge.dev/burngauge/pkg/stat"
)

// falloff is a dot's light in one colour by distance from its middle: falling
// outwards, of whatever law.
type falloff struct {
	radius, light, scatter []float64 // of each bin; the radius is the cells' mean, mm
}

// sample is a cell's light, as far as it is not the ground's, at a distance, mm.
type sample struct{ radius, light float64 }

// newFalloff takes the median of each bin, and then the robust mean of what the
// cells depart from the line between the bins: on a steep side that is far less
// than a bin's light spans. floor is the least scatter.
func newFalloff(samples []sample, g *ground, floor float64) falloff {
	all := make([][]sample, int(g.reach/g.set.BinMM)+1)
	for _, s := range samples {
		if i := int(s.radius / g.set.BinMM); i < len(all) {
			all[i] = append(all[i], s)
		}
	}
	var f falloff
	var bins [][]sample
	for _, b := range all {
		if len(b) < g.set.LeastBinCells {
			continue
		}
		bins = append(bins, b)
		radius := 0.0
		light := make([]float64, len(b))
		for i, s := range b {
			radius += s.radius / float64(len(b))
			light[i] = s.light
		}
		f.radius, f.light, f.scatter = append(f.radius, radius), append(f.light, stat.Median(light)), append(f.scatter, floor)
	}
	for range 2 { // the second time about the first's lines
		f.refine(bins, floor)
	}
	return f
}

// refine corrects each bin's light by its cells' departures, with Tukey's
// weights, and makes the whole fall outwards.
func (f *falloff) refine(bins [][]sample, floor float64) {
	light, weight := make([]float64, len(bins)), make([]float64, len(bins))
	for i, b := range bins {
		off := make([]float64, len(b))
		for k, s := range b {
			p, _, _ := f.at(s.radius)
			off[k] = s.light - p
		}
		middle := stat.Median(off)
		f.scatter[i] = max(stat.MAD(off), floor)
		var sum, total float64
		for _, o := range off {
			w := stat.Tukey((o - middle) / f.scatter[i])
			sum, total = sum+w*o, total+w
		}
		light[i], weight[i] = f.light[i]+sum/total, float64(len(b))/(f.scatter[i]*f.scatter[i])
	}
	f.light = light
	fallOutwards(f.light, weight)
}

// fallOutwards replaces v by the weighted least-squares fit that never rises:
// neighbours that rise are pooled to their mean until none does (pool adjacent
// violators: M. Ayer and others, Ann. Math. Statist. 26 (1955) 641; from memory).
func fallOutwards(v, weight []float64) {
	type pool struct {
		sum, weight float64
		n           int
	}
	var pools []pool
	for i := range v {
		pools = append(pools, pool{v[i] * weight[i], weight[i], 1})
		for n := len(pools); n > 1 && pools[n-2].sum*pools[n-1].weight < pools[n-1].sum*pools[n-2].weight; n-- {
			a, b := pools[n-2], pools[n-1]
			pools = append(pools[:n-2], pool{a.sum + b.sum, a.weight + b.weight, a.n + b.n})
		}
	}
	i := 0
	for _, p := range pools {
		for range p.n {
			v[i] = p.sum / p.weight
			i++
		}
	}
}

// leastScatter keeps a residual in units of the scatter finite: less than one
// step of an 8-bit picture.
const leastScatter = 1e-4

// at is the light at a distance, its slope and the scatter there, linear
// between the bins and level beyond them; nothing, with an infinite scatter, when
// there are none.
func (f *falloff) at(radius float64) (light, slope, scatter float64) {
	n := len(f.radius)
	if n < 2 {
		return 0, 0, math.Inf(1)
	}
	i := 0
	for i < n-2 && radius > f.radius[i+1] {
		i++
	}
	width := f.radius[i+1] - f.radius[i]
	t := min(max((radius-f.radius[i])/width, 0), 1)
	slope = (f.light[i+1] - f.light[i]) / width
	if radius < f.radius[0] || radius > f.radius[n-1] {
		slope = 0
	}
	return f.light[i] + t*(f.light[i+1]-f.light[i]), slope, max(f.scatter[i]*(1-t)+f.scatter[i+1]*t, leastScatter)
}

// over is the light at a distance over that where it ends.
func (f *falloff) over(radius float64) float64 {
	if len(f.light) < 2 {
		return 0
	}
	light, _, _ := f.at(radius)
	return light - f.light[len(f.light)-1]
}

// height is the light in the middle over that where it ends.
func (f *falloff) height() float64 { return f.over(0) }

// sigma is the standard deviation along one axis of a round dot with this
// falloff L(r), mm: σ² = ∫ r³ L dr / ∫ r L dr / 2, since r² has the variances of
// two axes.
func (f *falloff) sigma() float64 {
	var sum, square float64
	for _, r := range f.radius {
		sum += r * f.over(r)
		square += r * r * r * f.over(r)
	}
	return math.Sqrt(square / max(sum, smallest) / 2)
}

// halfWidth is the distance where the light has fallen to half, mm.
func (f *falloff) halfWidth() float64 {
	n := len(f.light)
	if n < 2 {
		return 0
	}
	half := (f.light[0] + f.light[n-1]) / 2
	for i := 1; i < n; i++ {
		if f.light[i] < half {
			t := (f.light[i-1] - half) / (f.light[i-1] - f.light[i])
			return f.radius[i-1] + t*(f.radius[i]-f.radius[i-1])
		}
	}
	return f.radius[n-1]
}
