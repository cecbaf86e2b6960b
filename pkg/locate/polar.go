package locate

import (
	"math"

	"burngauge.dev/burngauge/pkg/lens"
	"burngauge.dev/burngauge/pkg/raster"
)

// polar is the small picture seen in circles of the plane that a pose gives,
// about its centre: light by angle and by the logarithm of the radius. A change of
// the target's scale is then a shift along the radius, so that one picture serves
// every scale.
type polar struct {
	set   *Settings
	sum   [][]float64 // running sums along the radius, per angle
	count [][]int     // running number of valid samples
	px    float64     // px of the small picture per unit radius
}

// radii is the number of steps of the radius.
func (set *Settings) radii() int { return int(math.Log(set.Outermost/set.Innermost) / set.LogStep) }

// radius of a step, in units of the ellipse's circle.
func (set *Settings) radius(step int) float64 {
	return set.Innermost * math.Exp(float64(step)*set.LogStep)
}

// newPolar samples the picture on circles of the plane that the pose gives.
func newPolar(small *raster.Raster, camera lens.Camera, unit lens.Pose, pxPerUnit float64, set *Settings) *polar {
	p := &polar{set: set, px: pxPerUnit}
	n := set.radii()
	radii := make([]float64, n)
	for i := range radii {
		radii[i] = set.radius(i)
	}
	for a := range set.PolarAngles {
		s, c := math.Sincos(2 * math.Pi * float64(a) / float64(set.PolarAngles))
		sum, count := make([]float64, n+1), make([]int, n+1)
		for i, r := range radii {
			v := small.Sample(small.Light, camera.Project(unit, r*c, r*s))
			sum[i+1], count[i+1] = sum[i], count[i]
			if !math.IsNaN(v) {
				sum[i+1] += v
				count[i+1]++
			}
		}
		p.sum, p.count = append(p.sum, sum), append(p.count, count)
	}
	return p
}

// mean over steps [from, to) at one angle; NaN unless all of it is in the picture.
func (p *polar) mean(angle, from, to int) float64 {
	if from < 0 || to >= len(p.sum[angle]) || to <= from || p.count[angle][to]-p.count[angle][from] != to-from {
		return math.NaN()
	}
	return (p.sum[angle][to] - p.sum[angle][from]) / float64(to-from)
}

// contrast of a line at one angle and step, half so many steps wide, against the
// nearer in light of its two sides, code values: negative for a dark line, 0 for a
// step, NaN where a part lies outside the picture.
func (p *polar) contrast(angle, i, half int) float64 {
	from, to := int(p.set.SideFrom*float64(half)), int(p.set.SideTo*float64(half))
	line := p.mean(angle, i-half, i+half+1)
	inner := p.mean(angle, i-to-1, i-from)
	outer := p.mean(angle, i+from+1, i+to+2)
	a, b := line-inner, line-outer
	if a*b <= 0 || math.IsNaN(a*b) { // a step, not a line
		return 0 * a * b
	}
	return math.Copysign(min(math.Abs(a), math.Abs(b)), a)
}

// lineAgreement is, for each radius step, how consistently over all angles a line
// of relative half width h lies there: -1 (dark all round) to +1. Each angle counts
// its contrast over what is typical of this picture, at most 1.
func (p *polar) lineAgreement(h float64) []float64 {
	set := p.set
	values := make([][]float64, set.radii())
	total, n := 0.0, 0
	for i := range values {
		half := int(math.Round(max(h/set.LogStep, set.NarrowestHalfPx/(p.px*set.radius(i)*set.LogStep))))
		values[i] = make([]float64, set.PolarAngles)
		for a := range set.PolarAngles {
			v := p.contrast(a, i, half)
			values[i][a] = v
			if !math.IsNaN(v) {
				total += math.Abs(v)
				n++
			}
		}
	}
	typical := set.TypicalTimes*total/float64(max(n, 1)) + set.LeastTypical
	out := make([]float64, len(values))
	for i, row := range values {
		for _, v := range row {
			if !math.IsNaN(v) {
				out[i] += max(-1, min(1, v/typical)) / float64(set.PolarAngles)
			}
		}
	}
	return out
}

// near reads the agreement near a radius (in units of the ellipse's circle), in
// the wanted sense; false where that lies outside the polar picture.
func (set *Settings) near(agreement []float64, radius, sign float64) (float64, bool) {
	i := int(math.Round(math.Log(radius/set.Innermost) / set.LogStep))
	if i < 1 || i >= len(agreement)-1 {
		return 0, false
	}
	return max(0, sign*agreement[i-1], sign*agreement[i], sign*agreement[i+1]), true
}
