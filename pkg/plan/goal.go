package plan

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// goal is what a plan is to make small: at each station the mean square distance
// that the spot will have, E|spot|², a quadratic of x = (1, turns), and of them
// the largest.
type goal struct {
	size   int         // 1 + screws
	square [][]float64 // [station] size x size
	used   [][]float64 // [station][screw] mm² that turning the screw at all adds
	low    []float64   // least turn of each screw, its travel's rest
	high   []float64
	step   []float64 // finest turn of each screw
	walks  []walk
	screw  float64 // mm that one more screw must gain at the worst station
}

// walk bounds how far the beam goes over one mirror at one station.
type walk struct {
	perTurn [][2]float64 // of each screw
	gone    [2]float64   // off the mirror's middle now
	most    float64      // mm
}

// goal from an outlook. caution weighs the variance against the mean's square: 1
// makes it the mean square distance, 0 is what would happen if all went as believed.
func (o *outlook) goal(caution float64) *goal {
	g := &goal{size: o.screws + 1}
	for k := range o.stations {
		q := make([]float64, g.size*g.size)
		for a := range 2 {
			m := o.mean[k][a]
			for i := range g.size {
				for j := range g.size {
					q[i*g.size+j] += m[i]*m[j] + caution*o.cov[k].At(a*g.size+i, a*g.size+j)
				}
			}
		}
		used := make([]float64, o.screws)
		for j := range used {
			used[j] = caution * (o.used[k][j][0][0] + o.used[k][j][1][1])
		}
		g.square, g.used = append(g.square, q), append(g.used, used)
	}
	return g
}

// at is one station's mean square distance, mm², for turns of some screws only.
func (g *goal) at(station int, support []int, turns []float64) float64 {
	q := g.square[station]
	sum := q[0]
	for a, i := range support {
		if turns[a] == 0 {
			continue
		}
		row := q[(i+1)*g.size:]
		part := 2 * row[0]
		for b, j := range support {
			part += row[j+1] * turns[b]
		}
		sum += turns[a]*part + g.used[station][i]
	}
	return sum
}

// What one more screw must gain to be worth a hand on it, as a share of the limit;
// and how much the other stations count beside the worst.
const (
	screwShare = 0.02
	othersPer  = 0.1
)

// cost of a plan, mm: the worst station's distance, a little of the mean one, the
// screws, and much for turns that may not be.
func (g *goal) cost(support []int, turns []float64) float64 {
	worst, total := 0.0, 0.0
	for k := range g.square {
		v := math.Sqrt(max(g.at(k, support, turns), 0))
		worst, total = max(worst, v), total+v
	}
	cost := worst + othersPer*total/float64(len(g.square))
	for _, t := range turns {
		if t != 0 {
			cost += g.screw
		}
	}
	return cost + forbidden*g.excess(support, turns)
}

// forbidden makes a mm beyond a mirror's edge, or a turn beyond a screw's travel,
// dearer than any distance.
const forbidden = 1e3

// excess is how far turns go beyond travel and mirrors, 0 when they may be.
func (g *goal) excess(support []int, turns []float64) (over float64) {
	for a, j := range support {
		over += max(0, turns[a]-g.high[j], g.low[j]-turns[a])
	}
	for _, w := range g.walks {
		at := w.gone
		for a, j := range support {
			at[0] += w.perTurn[j][0] * turns[a]
			at[1] += w.perTurn[j][1] * turns[a]
		}
		over += max(0, math.Hypot(at[0], at[1])-w.most)
	}
	return over
}

// ridge keeps turns that do the same from growing against each other: a turn costs
// as much as 0.03 mm at the worst station.
const ridge = 1e-3

// minimax finds turns of the supporting screws, not yet rounded, whose worst
// station is least. It solves weighted least squares again and again, each time
// giving each station more weight by its distance (C. L. Lawson's algorithm for
// Chebyshev approximation, 1961 [from memory]); the best pass is kept.
func (g *goal) minimax(support []int) ([]float64, []float64) {
	const rounds = 16
	weights := make([]float64, len(g.square))
	for k := range weights {
		weights[k] = 1 / float64(len(weights))
	}
	best, bestWeights, least := make([]float64, len(support)), append([]float64(nil), weights...), math.Inf(1)
	for range rounds {
		turns := g.weighted(support, weights, nil)
		if cost := g.cost(support, turns); cost < least {
			best, least = turns, cost
			copy(bestWeights, weights)
		}
		total := 0.0
		for k := range weights {
			weights[k] *= math.Sqrt(max(g.at(k, support, turns), 0)) + 1e-9
			total += weights[k]
		}
		for k := range weights {
			weights[k] = max(weights[k]/total, 1e-6)
		}
	}
	return best, bestWeights
}

// weighted is the least squares solution for weights of the stations. Turns that
// are fixed (not NaN) stay; others are held within their travel.
func (g *goal) weighted(support []int, weights, fixed []float64) []float64 {
	turns := make([]float64, len(support))
	var open []int
	for a := range support {
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
		right.SetVec(i, -g.slope(support, turns, weights, a))
		for j := i; j < len(open); j++ {
			h.SetSym(i, j, g.bend(weights, support[a], support[open[j]]))
		}
		h.SetSym(i, i, h.At(i, i)+ridge)
	}
	var chol mat.Cholesky
	var x mat.VecDense
	if !chol.Factorize(h) || chol.SolveVecTo(&x, right) != nil {
		return turns
	}
	for i, a := range open {
		turns[a] = min(max(x.AtVec(i), g.low[support[a]]), g.high[support[a]])
	}
	return turns
}

// slope is half the derivative by one turn, the open ones being 0.
func (g *goal) slope(support []int, turns, weights []float64, a int) (sum float64) {
	for k, w := range weights {
		row := g.square[k][(support[a]+1)*g.size:]
		v := row[0]
		for b, j := range support {
			v += row[j+1] * turns[b]
		}
		sum += w * v
	}
	return sum
}

// bend is half the second derivative by two screws.
func (g *goal) bend(weights []float64, i, j int) (sum float64) {
	for k, w := range weights {
		sum += w * g.square[k][(i+1)*g.size+j+1]
	}
	return sum
}
