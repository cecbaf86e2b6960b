package search

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// spot is a station's spot over the turns: right and up are each the first number plus
// the others times the turns of the screws.
type spot [2][]float64

// random makes a goal of some stations and screws, as coarse as hands are, and the spots
// that it is of.
func random(seed uint64, stations, screws int) (*Goal, []spot) {
	var spots []spot
	d := rand.New(rand.NewPCG(seed, 1))
	g := &Goal{Settings: DefaultSettings(), Size: screws + 1, ScrewMM: 0.04}
	for range stations {
		q, s := make([]float64, g.Size*g.Size), spot{}
		for axis := range 2 { // right and up
			m := []float64{3 * d.NormFloat64()}
			for range screws {
				m = append(m, 20*d.NormFloat64())
			}
			s[axis] = m
			for i, v := range m {
				for j, w := range m {
					q[i*g.Size+j] += v * w
				}
			}
		}
		spots = append(spots, s)
		g.Square, g.Used = append(g.Square, q), append(g.Used, make([]float64, screws))
	}
	for range screws {
		g.Low, g.High, g.Step = append(g.Low, -0.5), append(g.High, 0.5), append(g.Step, 1./16)
	}
	return g, spots
}

// costOf is what turns cost by the words of Settings, from the spots themselves: the
// worst one's distance, a tenth of the mean one, and 0.04 mm for each screw that is
// turned.
func costOf(spots []spot, turns []float64) float64 {
	worst, total := 0.0, 0.0
	for _, s := range spots {
		at := [2]float64{s[0][0], s[1][0]}
		for j, t := range turns {
			at[0], at[1] = at[0]+s[0][j+1]*t, at[1]+s[1][j+1]*t
		}
		far := math.Hypot(at[0], at[1])
		worst, total = max(worst, far), total+far
	}
	cost := worst + 0.1*total/float64(len(spots))
	for _, t := range turns {
		if t != 0 {
			cost += 0.04
		}
	}
	return cost
}

// exhaustive tries every combination of whole steps within the travel of half a turn.
func exhaustive(spots []spot) float64 {
	turns, least := make([]float64, len(spots[0][0])-1), math.Inf(1)
	var each func(i int)
	each = func(i int) {
		if i == len(turns) {
			least = min(least, costOf(spots, turns))
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
		g, spots := random(seed, 3, 3)
		best := g.Best([][]int{{0, 1, 2}})
		assert.InDelta(t, exhaustive(spots), best.CostMM, 1e-6, "seed %d", seed)
		assert.InDelta(t, costOf(spots, best.All(3)), best.CostMM, 1e-6, "seed %d", seed)
		c := g.Unrounded([]int{0, 1, 2})
		for a, j := range c.Screws {
			c.Turns[a] = g.onStep(j, c.Turns[a])
		}
		if g.Cost(c.Screws, c.Turns) > best.CostMM+0.1 {
			worse++
		}
	}
	assert.Greater(t, worse, machines/10, "each by itself is worse by 0.1 mm on many machines")
}

// A screw that does no more than another is left alone.
func TestFewScrewsArePreferred(t *testing.T) {
	g, _ := random(4, 3, 3)
	// The third screw does what the first does, and all spots lie where the first puts them right by 4 steps.
	for k := range g.Square {
		q := g.Square[k]
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
	best := g.Best([][]int{{0, 1, 2}})
	used := 0
	for _, x := range best.Turns {
		if x != 0 {
			used++
		}
	}
	assert.Equal(t, 1, used, "%v %v", best.Screws, best.Turns)
	assert.InDelta(t, g.ScrewMM, best.CostMM, 1e-6, "every spot is at the centre: what one screw costs is left")
}

func TestTravelAndMirrorsBoundTheTurns(t *testing.T) {
	g, _ := random(3, 3, 3)
	free := g.Best([][]int{{0, 1, 2}})
	g.High, g.Low = []float64{0.06, 0.06, 0.06}, []float64{-0.2, -0.2, -0.2}
	for a, v := range g.Best([][]int{{0, 1, 2}}).Turns {
		assert.True(t, v <= 0.06 && v >= -0.2, "screw %d turned %g; free %v", a, v, free.Turns)
	}
	g, _ = random(3, 3, 3)
	g.Edges = []Edge{{PerTurn: [][2]float64{{10, 0}, {0, 10}, {10, 10}}, MostMM: 0.3}}
	best := g.Best([][]int{{0, 1, 2}})
	assert.Zero(t, g.Excess(best.Screws, best.Turns))
	assert.Positive(t, g.Excess(free.Screws, free.Turns), "the bound matters here")
}

// Two mirrors and four places on the bed: at lengths l₁ from the first mirror to the
// second and l₂ from there to the head, (300, 200), (300, 1000), (900, 200), (900, 1000),
// angles a₁ and a₂ of the beam move the spot by a₁ (l₁ + l₂) + a₂ l₂ (columns in units of
// 10 mrad). The offsets that are least at the worst place are a linear program, solved
// with scipy's linprog: -2.833333 and 3.833333 mrad leave 0.25 mm at every station.
func TestBedPositionsByMinimax(t *testing.T) {
	a, offsets := [][]float64{{5, 2}, {13, 10}, {11, 2}, {19, 10}}, []float64{0.9, 0.1, 2.1, 1.3}
	g := &Goal{Settings: DefaultSettings(), Size: 3, Low: []float64{-9, -9}, High: []float64{9, 9}}
	for k, row := range a {
		m := []float64{offsets[k], row[0], row[1]}
		var q []float64
		for _, v := range m {
			for _, w := range m {
				q = append(q, v*w)
			}
		}
		g.Square, g.Used = append(g.Square, q), append(g.Used, []float64{0, 0})
	}
	turns, _ := g.Minimax([]int{0, 1})
	worst := 0.0
	for k := range a {
		worst = max(worst, math.Sqrt(g.MeanSquare(k, []int{0, 1}, turns)))
	}
	assert.InDelta(t, 0.25, worst, 0.002)
	assert.InDelta(t, -2.8333, 10*turns[0], 0.02)
	assert.InDelta(t, 3.8333, 10*turns[1], 0.02)
}
