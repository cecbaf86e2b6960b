package stat

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tolExact is what float64 arithmetic in another order may differ by.
const tolExact = 1e-12

// some values in no order, one of them far out.
func some() []float64 { return []float64{3.5, -1.25, 7.75, 0.5, 2.25, 9.0, -4.0, 1.125, 6.5, 100.0} }

// Reference: numpy 1.24.2, numpy.quantile with its default method "linear".
func TestQuantileAgreesWithNumpy(t *testing.T) {
	for _, c := range []struct{ q, want float64 }{
		{0, -4}, {0.1, -1.525}, {0.25, 0.65625}, {0.333, 1.123125}, {0.5, 2.875}, {0.9, 18.1}, {1, 100},
	} {
		assert.InDelta(t, c.want, Quantile(some(), c.q), tolExact, "q = %g", c.q)
	}
}

func TestQuantileLeavesItsInputInOrder(t *testing.T) {
	v := some()
	Quantile(v, 0.3)
	assert.Equal(t, some(), v)
}

func TestQuantileOfOneIsThatOneAndOfNoneIsNaN(t *testing.T) {
	for _, q := range []float64{0, 0.3, 1} {
		assert.Equal(t, 7.0, Quantile([]float64{7}, q))
	}
	assert.True(t, math.IsNaN(Quantile(nil, 0.5)))
	assert.True(t, math.IsNaN(Median(nil)))
	assert.True(t, math.IsNaN(MAD(nil)))
}

func TestMedianOfAnEvenCountIsTheMeanOfTheMiddleTwo(t *testing.T) {
	assert.Equal(t, 2.5, Median([]float64{4, 1, 3, 2}))
	assert.Equal(t, 3.0, Median([]float64{5, 1, 3}))
}

// Reference: scipy 1.10.1, scipy.stats.median_abs_deviation(v, scale="normal")
// = 5.7450835967; its scale is Φ⁻¹(3/4) in full, ours has five digits.
func TestMADAgreesWithScipy(t *testing.T) {
	const tolScale = 3e-6 // of 1.4826 against 1.482602
	assert.InEpsilon(t, 5.7450835967092075, MAD(some()), tolScale)
}

func TestMADEstimatesTheDeviationOfNormalNoise(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	v := make([]float64, 40000)
	for i := range v {
		v[i] = 5 + 0.3*rng.NormFloat64()
	}
	// The MAD's own relative standard deviation is 1.17/√n for normal data: 0.6 %.
	assert.InEpsilon(t, 0.3, MAD(v), 4*0.006)
}

func TestMADIgnoresWhatLiesFarOut(t *testing.T) {
	v := some()
	before := MAD(v)
	v[9] = 1e9
	assert.Equal(t, before, MAD(v))
}

// Closed form: (1 - (u/4.685)²)² within 4.685, so 9/16 at half of it.
func TestTukeyFollowsItsClosedForm(t *testing.T) {
	assert.Equal(t, 1.0, Tukey(0))
	assert.InDelta(t, 9.0/16, Tukey(4.685/2), tolExact)
	assert.InDelta(t, 9.0/16, Tukey(-4.685/2), tolExact)
	assert.Zero(t, Tukey(4.685))
	assert.Zero(t, Tukey(-5))
	assert.Zero(t, Tukey(math.Inf(1)))
}

// The constant 4.685 is published as the one that gives the location estimate
// 95 % efficiency on normal noise (P. J. Holland, R. E. Welsch, Communications
// in Statistics A6 (1977) 813; from memory). With ψ(u) = u w(u) the efficiency
// is E[ψ']² / E[ψ²], here by summing over the normal density.
func TestTukeyHas95PercentEfficiency(t *testing.T) {
	const step = 1e-3
	psi := func(u float64) float64 { return u * Tukey(u) }
	slope, square := 0.0, 0.0
	for u := -6.0; u < 6; u += step {
		density := math.Exp(-u*u/2) / math.Sqrt(2*math.Pi) * step
		slope += density * (psi(u+step/2) - psi(u-step/2)) / step
		square += density * psi(u) * psi(u)
	}
	require.Positive(t, square)
	const tolEfficiency = 5e-4 // the constant has four digits
	assert.InDelta(t, 0.95, slope*slope/square, tolEfficiency)
}
