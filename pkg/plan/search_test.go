package plan

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// random makes a goal of some stations and screws, as coarse as hands are.
func random(seed uint64, stations, screws int) *goal {
	d := rand.New(rand.NewPCG(seed, 1))
	g := &goal{size: screws + 1, screw: 0.04}
	for range stations {
		q := make([]float64, g.size*g.size)
		for range 2 { // right and up
			m := []float64{3 * d.NormFloat64()}
			for range screws {
				m = append(m, 20*d.NormFloat64())
			}
			for i, v := range m {
				for j, w := range m {
					q[i*g.size+j] += v * w
				}
			}
		}
		g.square, g.used = append(g.square, q), append(g.used, make([]float64, screws))
	}
	for range screws {
		g.low, g.high, g.step = append(g.low, -0.5), append(g.high, 0.5), append(g.step, 1./16)
	}
	return g
}

// exhaustive tries every combination of whole steps.
func exhaustive(g *goal) float64 {
	support := make([]int, g.size-1)
	for i := range support {
		support[i] = i
	}
	turns, least := make([]float64, len(support)), math.Inf(1)
	var each func(i int)
	each = func(i int) {
		if i == len(turns) {
			least = min(least, g.cost(support, turns))
			return
		}
		for k := -8; k <= 8; k++ {
			turns[i] = float64(k) / 16
			each(i + 1)
		}
	}
	each(0)
	return least
}

// Rounding finds the combination that trying all of them finds, and rounding each
// turn by itself often does not.
func TestRoundingFindsTheBestCombination(t *testing.T) {
	const machines = 60
	worse := 0
	for seed := range uint64(machines) {
		g := random(seed, 3, 3)
		best := g.search([][]int{{0, 1, 2}})
		assert.InDelta(t, exhaustive(g), best.cost, 1e-9, "seed %d", seed)
		c := g.candidate([]int{0, 1, 2})
		for a, j := range c.support {
			c.turns[a] = g.onStep(j, c.turns[a])
		}
		if g.cost(c.support, c.turns) > best.cost+0.1 {
			worse++
		}
	}
	assert.Greater(t, worse, machines/10, "each by itself is worse by 0.1 mm on many machines")
}

// A screw that does no more than another is left alone.
func TestFewScrewsArePreferred(t *testing.T) {
	g := random(4, 3, 3)
	// The third screw does what the first does, and all spots lie where the first puts them right by 4 steps.
	for k := range g.square {
		q := g.square[k]
		v, w := q[1*4+1], q[2*4+2]
		for i := range q {
			q[i] = 0
		}
		m := [][]float64{{-math.Sqrt(v) / 4, math.Sqrt(v), 0, math.Sqrt(v)}, {0, 0, math.Sqrt(w), 0}}
		for _, row := range m {
			for i := range 4 {
				for j := range 4 {
					q[i*4+j] += row[i] * row[j]
				}
			}
		}
	}
	best := g.search([][]int{{0, 1, 2}})
	used := 0
	for _, x := range best.turns {
		if x != 0 {
			used++
		}
	}
	assert.Equal(t, 1, used, "%v %v", best.support, best.turns)
	assert.InDelta(t, 0.04, best.cost, 1e-6)
}

func TestTravelAndMirrorsBoundTheTurns(t *testing.T) {
	g := random(3, 3, 3)
	free := g.search([][]int{{0, 1, 2}})
	g.high, g.low = []float64{0.06, 0.06, 0.06}, []float64{-0.2, -0.2, -0.2}
	for a, v := range g.search([][]int{{0, 1, 2}}).turns {
		assert.True(t, v <= 0.06 && v >= -0.2, "screw %d turned %g; free %v", a, v, free.turns)
	}
	g = random(3, 3, 3)
	g.walks = []walk{{perTurn: [][2]float64{{10, 0}, {0, 10}, {10, 10}}, most: 0.3}}
	best := g.search([][]int{{0, 1, 2}})
	assert.Zero(t, g.excess(best.support, best.turns))
	assert.Positive(t, g.excess(free.support, free.turns), "the bound matters here")
}
