package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/stat"
)

// reweigh sets each curve's scatter and each trace's weight from the present
// residuals. The scatter is the median of the residuals' size, which up to half of
// them may spoil; the weight is Tukey's biweight of residual over scatter
// (stat.Tukey), which is 0 for what lies far aside.
func (p *problem) reweigh() {
	sizes := map[group][]float64{} // about zero, not about their own median: the curve is known
	residuals := make([]float64, len(p.traces))
	for i, t := range p.traces {
		residuals[i] = p.residual(t)
		sizes[t.group()] = append(sizes[t.group()], math.Abs(residuals[i]))
	}
	p.spread = map[group]float64{}
	for g, s := range sizes {
		p.spread[g] = max(p.set.LeastSpreadPx, stat.NormalMAD*stat.Median(s))
	}
	p.weights = make([]float64, len(p.traces))
	for i, t := range p.traces {
		p.weights[i] = stat.Tukey(residuals[i] / p.spread[t.group()])
	}
	p.scale = p.scales(p.spread)
}

// Why a scatter for each curve and not one for all: a soft rim scatters more than a
// sharp line, and a ring under tape more than one beside it. In units of its own
// scatter each residual is about normal, which is what makes the sum of squares the
// likelihood and the information's inverse the covariance.

// scales is what each trace's residual is multiplied with when its curve scatters
// so much (px): √w/σ.
func (p *problem) scales(spread map[group]float64) []float64 {
	scale := make([]float64, len(p.traces))
	for i, t := range p.traces {
		scale[i] = math.Sqrt(p.weights[i]) / spread[t.group()]
	}
	return scale
}

// inflation is (1+r)/(1-r) for the lag-one autocorrelation r along each curve: the
// factor by which the variance of a mean of many grows when neighbours are alike as
// in an AR(1) process, whose correlations r, r², r³ ... sum to it (G. E. P. Box, G.
// M. Jenkins, Time Series Analysis, 1970, chapter 2).
func (p *problem) inflation() map[group]float64 {
	type sums struct{ lag, square float64 }
	by := map[group]sums{}
	for i := range p.traces {
		t := p.traces[i]
		s := by[t.group()]
		e := math.Sqrt(p.weights[i]) * p.residual(t)
		s.square += e * e
		if i > 0 && p.traces[i-1].group() == t.group() {
			s.lag += e * math.Sqrt(p.weights[i-1]) * p.residual(p.traces[i-1])
		}
		by[t.group()] = s
	}
	out := map[group]float64{}
	for g, s := range by {
		r := 0.0
		if s.square > 0 {
			r = max(0, min(p.set.MostCorrelation, s.lag/s.square))
		}
		out[g] = (1 + r) / (1 - r)
	}
	return out
}
