package plan

import (
	"math"
	"slices"
)

// candidate is a set of screws and their turns.
type candidate struct {
	support []int
	turns   []float64
	weights []float64 // of the stations, that made turns the minimax
	cost    float64   // mm
}

// full gives the turns of all screws.
func (c candidate) full(screws int) []float64 {
	out := make([]float64, screws)
	for a, j := range c.support {
		out[j] = c.turns[a]
	}
	return out
}

func (g *goal) candidate(support []int) candidate {
	turns, weights := g.minimax(support)
	return candidate{support, turns, weights, g.cost(support, turns)}
}

// pairs are ways to give each mirror two of its three screws: all three together
// only shift the plate. Up to three mirrors they are all tried; beyond, each
// mirror has the two screws that are not the pivot.
func pairs(mirrors int, pivots []int) [][]int {
	if mirrors > 3 {
		var support []int
		for m := range mirrors {
			for s := range 3 {
				if s != pivots[m] {
					support = append(support, 3*m+s)
				}
			}
		}
		return [][]int{support}
	}
	list := [][]int{nil}
	for m := range mirrors {
		var next [][]int
		for _, support := range list {
			for left := range 3 {
				a, b := 3*m+(left+1)%3, 3*m+(left+2)%3
				next = append(next, append(slices.Clone(support), min(a, b), max(a, b)))
			}
		}
		list = next
	}
	return list
}

// kept is how many sets of each number of screws are rounded.
const kept = 2

// search finds the best rounded turns: for each number of screws the sets that
// are best unrounded, each rounded by looking at whole combinations.
func (g *goal) search(starts [][]int) candidate {
	nothing := candidate{}
	nothing.cost = g.cost(nil, nil)
	best := nothing
	level := make([]candidate, 0, len(starts))
	for _, s := range starts {
		level = append(level, g.candidate(s))
	}
	for len(level) > 0 {
		slices.SortFunc(level, func(a, b candidate) int {
			return compare(a.cost, b.cost)
		})
		level = level[:min(kept, len(level))]
		for _, c := range level {
			if r := g.rounded(c); r.cost < best.cost {
				best = r
			}
		}
		level = g.fewer(level)
	}
	return best
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// fewer takes one screw out of each set, in all ways.
func (g *goal) fewer(level []candidate) (next []candidate) {
	seen := map[string]bool{}
	for _, c := range level {
		for i := range c.support {
			support := slices.Delete(slices.Clone(c.support), i, i+1)
			key := key(support)
			if len(support) == 0 || seen[key] {
				continue
			}
			seen[key] = true
			next = append(next, g.candidate(support))
		}
	}
	return next
}

func key(support []int) string {
	text := make([]byte, len(support))
	for i, s := range support {
		text[i] = byte(s)
	}
	return string(text)
}

// rounded brings turns to whole steps: first one after the other, each time
// solving the rest anew (L. Babai's nearest plane, 1986 [from memory]), then by
// changing up to three at once as long as that betters the whole.
func (g *goal) rounded(c candidate) candidate {
	fixed := make([]float64, len(c.turns))
	for a := range fixed {
		fixed[a] = math.NaN()
	}
	turns := c.turns
	for a, j := range c.support {
		fixed[a] = g.onStep(j, turns[a])
		turns = g.weighted(c.support, c.weights, fixed)
	}
	c.turns = fixed
	c.cost = g.cost(c.support, c.turns)
	for g.better(&c) {
	}
	return c
}

// onStep is the nearest whole step within the screw's travel.
func (g *goal) onStep(screw int, turns float64) float64 {
	step := g.step[screw]
	low, high := math.Ceil(g.low[screw]/step-1e-9), math.Floor(g.high[screw]/step+1e-9)
	return step * min(max(math.Round(turns/step), low), high)
}

// reach is how many steps a screw is moved at once.
const reach = 2

// together is how many screws are changed at once: three, fewer on machines of so
// many mirrors that it would take longer than a person waits.
func together(screws int) int {
	switch {
	case screws > 24:
		return 1
	case screws > 12:
		return 2
	}
	return 3
}

// better looks for a change of a few screws that lowers the cost and takes the best
// one.
func (g *goal) better(c *candidate) bool {
	trial := slices.Clone(c.turns)
	best, least := slices.Clone(c.turns), c.cost-1e-9
	var change func(from, left int)
	change = func(from, left int) {
		for a := from; a < len(trial); a++ {
			old := trial[a]
			for k := -reach; k <= reach; k++ {
				if k == 0 {
					continue
				}
				// Counted in whole steps, so that errors do not add up.
				step := g.step[c.support[a]]
				trial[a] = step * (math.Round(old/step) + float64(k))
				if cost := g.cost(c.support, trial); cost < least {
					least = cost
					copy(best, trial)
				}
				if left > 1 {
					change(a+1, left-1)
				}
			}
			trial[a] = old
		}
	}
	change(0, together(len(trial)))
	if least >= c.cost-1e-9 {
		return false
	}
	c.turns, c.cost = best, least
	return true
}
