package search

import (
	"cmp"
	"math"
	"slices"
)

// Choice is a set of screws and their turns.
type Choice struct {
	Screws []int     // places in the goal, rising
	Turns  []float64 // of each of Screws
	CostMM float64   // see Goal.Cost

	weights []float64 // of the stations, that made Turns the minimax
}

// All gives the turns of all screws of a machine, 0 for those that are not chosen.
func (c Choice) All(screws int) []float64 {
	out := make([]float64, screws)
	for a, j := range c.Screws {
		out[j] = c.Turns[a]
	}
	return out
}

// Unrounded is the minimax choice of turns for a set of screws, not in whole steps.
func (g *Goal) Unrounded(screws []int) Choice {
	turns, weights := g.Minimax(screws)
	return Choice{Screws: screws, Turns: turns, CostMM: g.Cost(screws, turns), weights: weights}
}

// Best finds turns in whole steps. It begins with the sets of screws given; for each
// number of screws the sets that are best unrounded are brought to whole steps, then
// each loses one screw in all ways, down to one: a beam search. The result may have no
// screws: then nothing is better than turning none.
//
// Which screws to turn, how many, and to which whole step is one problem, a mixed integer
// program without a closed solution. Rounding each turn by itself is a tenth of a mm
// worse on many machines; a test compares with all combinations.
func (g *Goal) Best(starts [][]int) Choice {
	best := Choice{CostMM: g.Cost(nil, nil)}
	level := make([]Choice, 0, len(starts))
	for _, s := range starts {
		level = append(level, g.Unrounded(s))
	}
	for len(level) > 0 {
		slices.SortFunc(level, func(a, b Choice) int { return cmp.Compare(a.CostMM, b.CostMM) })
		level = level[:min(g.Settings.Rounded, len(level))]
		for _, c := range level {
			if r := g.rounded(c); r.CostMM < best.CostMM {
				best = r
			}
		}
		level = g.fewer(level)
	}
	return best
}

// fewer takes one screw out of each set, in all ways; each set comes once.
func (g *Goal) fewer(level []Choice) (next []Choice) {
	seen := map[string]bool{}
	for _, c := range level {
		for i := range c.Screws {
			screws := slices.Delete(slices.Clone(c.Screws), i, i+1)
			key := key(screws)
			if len(screws) == 0 || seen[key] {
				continue
			}
			seen[key] = true
			next = append(next, g.Unrounded(screws))
		}
	}
	return next
}

// key is a set of screws as a key of a map; machines have fewer than 256.
func key(screws []int) string {
	text := make([]byte, len(screws))
	for i, s := range screws {
		text[i] = byte(s)
	}
	return string(text)
}

// rounded brings turns to whole steps: first one after the other, each time solving
// the rest again with those before it fixed (L. Babai's nearest plane algorithm for the
// closest vector of a lattice, Combinatorica 6, 1986 [from memory]), with the stations'
// weights of the minimax; then by changing up to three at once as long as that lowers
// the cost.
func (g *Goal) rounded(c Choice) Choice {
	fixed := make([]float64, len(c.Turns))
	for a := range fixed {
		fixed[a] = math.NaN()
	}
	turns := c.Turns
	for a, j := range c.Screws {
		fixed[a] = g.onStep(j, turns[a])
		turns = g.weighted(c.Screws, c.weights, fixed)
	}
	c.Turns = fixed
	c.CostMM = g.Cost(c.Screws, c.Turns)
	for g.improve(&c) {
	}
	return c
}

// onStep is the nearest whole step within the screw's travel.
func (g *Goal) onStep(screw int, turns float64) float64 {
	step, tolerance := g.Step[screw], g.Settings.StepTolerance
	low, high := math.Ceil(g.Low[screw]/step-tolerance), math.Floor(g.High[screw]/step+tolerance)
	return step * min(max(math.Round(turns/step), low), high)
}

// improve looks for a change of a few screws, by a few steps each, that lowers the
// cost, and takes the best one. It says whether there was one.
func (g *Goal) improve(c *Choice) bool {
	t := &trial{goal: g, screws: c.Screws, turns: slices.Clone(c.Turns), best: slices.Clone(c.Turns), least: c.CostMM - g.Settings.CostToleranceMM}
	t.change(0, g.Settings.together(len(c.Turns)))
	if t.least >= c.CostMM-g.Settings.CostToleranceMM {
		return false
	}
	c.Turns, c.CostMM = t.best, t.least
	return true
}

// trial is the state of one search through changes.
type trial struct {
	goal   *Goal
	screws []int
	turns  []float64 // as tried now
	best   []float64
	least  float64 // cost of best
}

// change moves one screw from a place on by each number of steps and, for each, up
// to left-1 of the screws behind it.
func (t *trial) change(from, left int) {
	for a := from; a < len(t.turns); a++ {
		old := t.turns[a]
		for k := -t.goal.Settings.ReachSteps; k <= t.goal.Settings.ReachSteps; k++ {
			if k == 0 {
				continue
			}
			// Counted in whole steps, so that errors do not add up.
			step := t.goal.Step[t.screws[a]]
			t.turns[a] = step * (math.Round(old/step) + float64(k))
			if cost := t.goal.Cost(t.screws, t.turns); cost < t.least {
				t.least = cost
				copy(t.best, t.turns)
			}
			if left > 1 {
				t.change(a+1, left-1)
			}
		}
		t.turns[a] = old
	}
}
