// Package search finds the turns of a few screws, in whole steps that a hand can set,
// that make the worst of several spots' distances small.
//
// It knows nothing of mirrors: a Goal is a quadratic form for each station with bounds,
// and the result is a Choice of screws with their turns. Distances are in mm, turns in
// turns of a screw.
package search

import "math"

// Goal is what a plan is to make small: at each station the mean square distance
// that the spot will have, E|spot|², and of them the largest.
//
// With x = (1, t₁ ... tₙ) for n screws a station's mean square distance is the
// quadratic form xᵀ Q x, plus what turning a screw at all adds. All slices over
// stations have the same length, and so have those over screws.
type Goal struct {
	Settings Settings
	// Size is 1 + n, the side of each station's Q.
	Size int
	// Square is Q of each station, row by row, mm².
	Square [][]float64
	// Used is what turning a screw at all adds, whatever the turn: [station][screw], mm².
	Used [][]float64
	// Low and High bound each screw's turn: what is left of its travel.
	Low, High []float64
	// Step is the finest turn of each screw.
	Step []float64
	// Edges bound how far the beam goes over each mirror at each station.
	Edges []Edge
	// ScrewMM is what one more screw must gain at the worst station.
	ScrewMM float64
}

// Edge bounds how far the beam goes over one mirror at one station, by Euclid's
// distance from the mirror's middle.
type Edge struct {
	// PerTurn is how a turn of each screw moves the beam over the mirror, mm.
	PerTurn [][2]float64
	// NowMM is where the beam is, off the mirror's middle.
	NowMM [2]float64
	// MostMM is how far it may be from there.
	MostMM float64
}

// MeanSquare is one station's mean square distance, mm², for turns of some screws
// only. With x as above it is
//
//	Q₀₀ + Σ_a t_a (2 Q₀a + Σ_b Q_ab t_b) + Σ_{a turned} Used_a.
func (g *Goal) MeanSquare(station int, screws []int, turns []float64) float64 {
	q := g.Square[station]
	sum := q[0]
	for a, i := range screws {
		if turns[a] == 0 {
			continue
		}
		row := q[(i+1)*g.Size:]
		part := 2 * row[0]
		for b, j := range screws {
			part += row[j+1] * turns[b]
		}
		sum += turns[a]*part + g.Used[station][i]
	}
	return sum
}

// distance is the root of the mean square distance; rounding may have made a zero
// negative.
func (g *Goal) distance(station int, screws []int, turns []float64) float64 {
	return math.Sqrt(max(g.MeanSquare(station, screws, turns), 0))
}

// Cost of turns, mm: the worst station's distance, a little of the mean one, the
// screws, and much for turns that may not be.
func (g *Goal) Cost(screws []int, turns []float64) float64 {
	worst, total := 0.0, 0.0
	for k := range g.Square {
		v := g.distance(k, screws, turns)
		worst, total = max(worst, v), total+v
	}
	cost := worst + g.Settings.OthersShare*total/float64(len(g.Square))
	for _, t := range turns {
		if t != 0 {
			cost += g.ScrewMM
		}
	}
	return cost + g.Settings.ForbiddenMM*g.Excess(screws, turns)
}

// Excess is how far turns go beyond travel and mirrors' edges, turns and mm added up;
// 0 when they may be.
func (g *Goal) Excess(screws []int, turns []float64) (over float64) {
	for a, j := range screws {
		over += max(0, turns[a]-g.High[j], g.Low[j]-turns[a])
	}
	for _, e := range g.Edges {
		at := e.NowMM
		for a, j := range screws {
			at[0] += e.PerTurn[j][0] * turns[a]
			at[1] += e.PerTurn[j][1] * turns[a]
		}
		over += max(0, math.Hypot(at[0], at[1])-e.MostMM)
	}
	return over
}

// slope is half the derivative of Σ_k w_k xᵀQx by turn a, the open turns
// being 0: Σ_k w_k (Q₀a + Σ_b Q_ab t_b).
func (g *Goal) slope(screws []int, turns, weights []float64, a int) (sum float64) {
	for k, w := range weights {
		row := g.Square[k][(screws[a]+1)*g.Size:]
		v := row[0]
		for b, j := range screws {
			v += row[j+1] * turns[b]
		}
		sum += w * v
	}
	return sum
}

// bend is half the second derivative by two screws, Σ_k w_k Q_ij.
func (g *Goal) bend(weights []float64, i, j int) (sum float64) {
	for k, w := range weights {
		sum += w * g.Square[k][(i+1)*g.Size+j+1]
	}
	return sum
}
