package spot

import (
	"math"

	"burngauge.dev/burngauge/pkg/ring"
)

// Search settings.
const (
	mostSuspects = 4    // places that are looked at closely, of each kind
	softLight    = 0.1  // of the camera's scale: on black, a little light is not yet much
	leastBump    = 0.02 // light over that of the surroundings, relative to it
	nearMM       = 0.35 // half width of the square that is compared
	farMM        = 2.4  // with this one
)

// suspects are places where a dot may be: those that are redder than their
// surroundings and not darker, and those that are brighter, since a core that
// is burnt out white is no redder than what lies about it. The most likely of
// each kind come first.
func suspects(f *ring.Fit, ink printed) [][2]float64 {
	extent := f.Spec.OuterRadius() + f.Spec.Index.ToMM
	p := flatten(f, 0, 0, extent, 2*extent/coarseCells)
	var bump [3][]float64
	for c := range bump {
		plane := *p
		plane.light = p.colour[c]
		v := (&darkness{flat: &plane}).bridged(ink)
		for k := range v {
			if x, y := p.place(k%p.n, k/p.n); math.Hypot(x, y) > extent {
				v[k] = math.NaN()
			}
		}
		bump[c] = brighter(v, p)
	}
	red, bright := make([]float64, len(p.light)), make([]float64, len(p.light))
	for k := range red {
		b, g, r := bump[0][k], bump[1][k], bump[2][k]
		red[k], bright[k] = r-max(b, g, 0), r+(b+g)/2
	}
	return append(summits(p, red), summits(p, bright)...)
}

// brighter is by how much each place is brighter than its surroundings,
// relative to them.
func brighter(v []float64, p *flat) []float64 {
	h := int(farMM / p.step)
	near, far := boxMean(v, p.n, int(nearMM/p.step)), boxMean(v, p.n, h)
	for k := range v {
		if v[k] < burntDark*far[k] { // a burn is nothing to be brighter than
			v[k] = math.NaN()
		}
	}
	far = boxMean(v, p.n, h)
	for k := range near {
		near[k] = (near[k] - far[k]) / (far[k] + softLight)
	}
	return near
}

// summits are the highest places of a map, well apart.
func summits(p *flat, height []float64) [][2]float64 {
	var out [][2]float64
	for len(out) < mostSuspects {
		best, at := leastBump, -1
		for k, h := range height {
			if h > best {
				best, at = h, k
			}
		}
		if at < 0 {
			break
		}
		x, y := p.place(at%p.n, at/p.n)
		out = append(out, [2]float64{x, y})
		for k := range height {
			if i, j := p.place(k%p.n, k/p.n); math.Hypot(i-x, j-y) < apartMM {
				height[k] = math.Inf(-1)
			}
		}
	}
	return out
}

// boxMean is the mean over squares of half width h cells, NaN cells left out,
// by running sums; NaN where none is known.
func boxMean(v []float64, n, h int) []float64 {
	w := n + 1
	sum, count := make([]float64, w*w), make([]float64, w*w)
	for j := range n {
		for i := range n {
			k := (j+1)*w + i + 1
			sum[k] = sum[k-1] + sum[k-w] - sum[k-w-1]
			count[k] = count[k-1] + count[k-w] - count[k-w-1]
			if x := v[j*n+i]; !math.IsNaN(x) {
				sum[k] += x
				count[k]++
			}
		}
	}
	out := make([]float64, n*n)
	for j := range n {
		for i := range n {
			x0, x1, y0, y1 := max(i-h, 0), min(i+h+1, n), max(j-h, 0), min(j+h+1, n)
			box := func(s []float64) float64 { return s[y1*w+x1] - s[y0*w+x1] - s[y1*w+x0] + s[y0*w+x0] }
			out[j*n+i] = math.NaN()
			if known := box(count); known > 0 {
				out[j*n+i] = box(sum) / known
			}
		}
	}
	return out
}
