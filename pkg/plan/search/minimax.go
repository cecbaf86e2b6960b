package search

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Numbers that keep the weights of Lawson's algorithm positive: a station whose spot
// is exact keeps 1e-9 mm, so that its weight is not lost for good, and no weight falls
// below a millionth of all. Anything much smaller than a reading's 0.02 mm does.
const (
	leastDistanceMM = 1e-9
	leastWeight     = 1e-6
)

// Minimax finds turns of some screws, not yet whole steps, that make the worst station's
// distance small; and the weights of the stations that led to them. The other screws
// stay.
//
// The largest of several norms is made least by weighted least squares, solved again
// and again, each time with w_k ← w_k |spot_k|, normalised: C. L. Lawson's algorithm
// for Chebyshev approximation, 1961 [from memory]. Its limit is the minimax solution;
// the pass of least cost is kept.
func (g *Goal) Minimax(screws []int) (turns, weights []float64) {
	weights = make([]float64, len(g.Square))
	for k := range weights {
		weights[k] = 1 / float64(len(weights))
	}
	best, bestWeights, least := make([]float64, len(screws)), append([]float64(nil), weights...), math.Inf(1)
	for range g.Settings.MinimaxPasses {
		turns := g.weighted(screws, weights, nil)
		if cost := g.Cost(screws, turns); cost < least {
			best, least = turns, cost
			copy(bestWeights, weights)
		}
		g.reweigh(weights, screws, turns)
	}
	return best, bestWeights
}

// reweigh gives each station weight in proportion to its distance, w_k ← w_k |spot_k| / Σ:
// one that is always far out gains weight in every pass, one that is never the worst fades.
// Where the minimax is reached only the stations at the common largest distance have any.
func (g *Goal) reweigh(weights []float64, screws []int, turns []float64) {
	total := 0.0
	for k := range weights {
		weights[k] *= g.distance(k, screws, turns) + leastDistanceMM
		total += weights[k]
	}
	for k := range weights {
		weights[k] = max(weights[k]/total, leastWeight)
	}
}

// weighted is the least squares solution for weights of the stations: the turns where
// the derivative of Σ_k w_k xᵀQ_k x + ridge |t|² vanishes, (H + ridge I) t = -slope.
// Turns that are fixed (not NaN) stay; others are held within their travel. Where H
// cannot be factorised the open turns are 0.
func (g *Goal) weighted(screws []int, weights, fixed []float64) []float64 {
	turns := make([]float64, len(screws))
	var open []int
	for a := range screws {
		if fixed != nil && !math.IsNaN(fixed[a]) {
			turns[a] = fixed[a]
			continue
		}
		open = append(open, a)
	}
	if len(open) == 0 {
		return turns
	}
	h, right := mat.NewSymDense(len(open), nil), mat.NewVecDense(len(open), nil)
	for i, a := range open {
		right.SetVec(i, -g.slope(screws, turns, weights, a))
		for j := i; j < len(open); j++ {
			h.SetSym(i, j, g.bend(weights, screws[a], screws[open[j]]))
		}
		h.SetSym(i, i, h.At(i, i)+g.Settings.RidgeMM2)
	}
	var chol mat.Cholesky
	var x mat.VecDense
	if !chol.Factorize(h) || chol.SolveVecTo(&x, right) != nil {
		return turns
	}
	for i, a := range open {
		turns[a] = min(max(x.AtVec(i), g.Low[screws[a]]), g.High[screws[a]])
	}
	return turns
}
