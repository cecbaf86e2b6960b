package coverage

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

func TestStateAtItsBounds(t *testing.T) {
	for p, want := range map[float64]string{
		1: Inside, 0.95: Inside, 0.9499: Borderline, 0.5: Borderline, 0.0501: Borderline, 0.05: Outside, 0: Outside,
	} {
		assert.Equal(t, want, State(p), "%v", p)
	}
	assert.Equal(t, Borderline, State(math.NaN()))
}

// Worked examples of JCGM 106:2012; data from memory, results recomputed.
func TestConformanceProbabilities(t *testing.T) {
	inf := math.Inf(1)
	assert.InDelta(t, 0.919243, Conforms(-5.47, 0.05, -inf, -5.4), 1e-6, "breakdown voltage")
	assert.InDelta(t, 0.662630, Conforms(13.6, 1.8, 12.5, 16.3), 1e-6, "oil viscosity")
	// Speed limit 100 km/h, 2 % of the reading: fined from 107 on.
	assert.InDelta(t, 0.999, Conforms(106.588, 0.02*106.588, 100, inf), 1e-6)
	assert.InDelta(t, 106.588, 100/(1-0.02*Normal(0.999)), 5e-4)
}

func TestConformsWithoutUncertainty(t *testing.T) {
	assert.Equal(t, 1.0, Conforms(2, 0, 1, 2))
	assert.Equal(t, 0.0, Conforms(2.1, 0, 1, 2))
	// In the far tail the difference keeps its digits: Φ(-10) = 7.61985302e-24.
	assert.InEpsilon(t, 7.61985302e-24, Conforms(0, 1, 10, math.Inf(1)), 1e-8)
}

func TestGuardBandsOfOneLimit(t *testing.T) {
	// How many standard uncertainties an acceptance limit stands back for a
	// probability: JCGM 106, table 1, 0.84 1.28 1.64 2.33 3.09 (from memory);
	// recomputed.
	for p, z := range map[float64]float64{.80: 0.84162, .90: 1.28155, .95: 1.64485, .99: 2.32635, .999: 3.09023} {
		assert.InDelta(t, z, Normal(p), 5.1e-6)
		assert.InDelta(t, p, Conforms(-z, 1, math.Inf(-1), 0), 2e-6)
	}
	// The other way round: what a guard of g standard uncertainties lets pass.
	for g, p := range map[float64]float64{1: .1587, 1.645: .0500, 1.65: .0495, 2: .02275, 3: .00135} {
		assert.InDelta(t, p, 1-Conforms(-g, 1, math.Inf(-1), 0), 5e-5)
	}
}

func TestTwoSidedAcceptanceLimits(t *testing.T) {
	// Where the probability of lying within ±1 is 0.95, by u; recomputed.
	for u, a := range map[float64]float64{.05: .917757, .1: .835515, .2: .671029, .3: .506543, .4: .340493, .5: .101894} {
		assert.InDelta(t, 0.95, Conforms(a, u, -1, 1), 2e-6)
	}
	assert.Less(t, Conforms(0, 0.5103, -1, 1), 0.95) // none beyond u = 1/1.959964
}

// A process of 1500 Ω ± 0.2, spread 0.12, measured with 0.04, accepted within
// ±0.18: consumer's and producer's risk of JCGM 106, printed as 1 % and 7 %
// (from memory); recomputed.
func TestRisksOfAProcess(t *testing.T) {
	process := distuv.Normal{Mu: 0, Sigma: 0.12}
	assert.InDelta(t, 0.904419, Conforms(0, 0.12, -0.2, 0.2), 1e-6)
	for _, c := range []struct{ accept, consumer, producer float64 }{{0.18, 0.009878, 0.069027}, {0.2, 0.018942, 0.037208}} {
		accepted := func(x float64) float64 { return process.Prob(x) * Conforms(x, 0.04, -c.accept, c.accept) }
		rejected := func(x float64) float64 { return process.Prob(x) * (1 - Conforms(x, 0.04, -c.accept, c.accept)) }
		assert.InDelta(t, c.consumer, 2*quad.Fixed(accepted, 0.2, 1, 200, nil, 0), 1e-6)
		assert.InDelta(t, c.producer, 2*quad.Fixed(rejected, 0, 0.2, 200, nil, 0), 1e-6)
	}
}
