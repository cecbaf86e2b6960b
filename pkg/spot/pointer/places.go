package pointer

import (
	"math"

	"burngauge.dev/burngauge/pkg/spot/cells"
	"burngauge.dev/burngauge/pkg/spot/flat"
)

// places are where a dot may be, mm: those that are redder than their
// surroundings and not darker, and those that are brighter, since a core that
// is burnt out white is no redder than what lies about it. The most likely of
// each kind come first.
func (v *view) places() [][2]float64 {
	extent := v.fit.Spec.OuterRadius() + v.fit.Spec.Index.ToMM
	p := flat.Flatten(v.fit, flat.Square{Half: extent, Step: 2 * extent / float64(v.set.CoarseCells)}, v.flat)
	var bump [3][]float64
	for c := range bump {
		light := v.print.Bridged(p.InColour(c))
		for k := range light {
			if x, y := p.Centre(k); math.Hypot(x, y) > extent {
				light[k] = math.NaN()
			}
		}
		bump[c] = v.brighter(light, p)
	}
	red, bright := make([]float64, len(p.Light)), make([]float64, len(p.Light))
	for k := range red {
		b, g, r := bump[0][k], bump[1][k], bump[2][k]
		red[k], bright[k] = r-max(b, g, 0), r+(b+g)/2
	}
	return append(v.summits(p, red), v.summits(p, bright)...)
}

// brighter is by how much each place is brighter than its surroundings, relative
// to them: (near - far) / (far + SoftLight), of means over squares. light is
// changed: NaN where a burn is, than which nothing is brighter.
func (v *view) brighter(light []float64, p *flat.Field) []float64 {
	h := int(v.set.FarMM / p.Step)
	near, far := cells.BoxMean(light, p.N, int(v.set.NearMM/p.Step)), cells.BoxMean(light, p.N, h)
	for k := range light {
		if light[k] < v.set.BurntDark*far[k] {
			light[k] = math.NaN()
		}
	}
	far = cells.BoxMean(light, p.N, h)
	for k := range near {
		near[k] = (near[k] - far[k]) / (far[k] + v.set.SoftLight)
	}
	return near
}

// summits are the highest places of a map, well apart. The map is used up.
func (v *view) summits(p *flat.Field, height []float64) [][2]float64 {
	var out [][2]float64
	for len(out) < v.set.MostPlaces {
		best, at := math.Inf(-1), -1
		for k, h := range height {
			if h > best {
				best, at = h, k
			}
		}
		if !v.log.Above("pointer.LeastBump", best, v.set.LeastBump, "the place is looked at closely") {
			break
		}
		x, y := p.Centre(at)
		out = append(out, [2]float64{x, y})
		for k := range height {
			if i, j := p.Centre(k); math.Hypot(i-x, j-y) < v.set.ApartMM {
				height[k] = math.Inf(-1)
			}
		}
	}
	return out
}
