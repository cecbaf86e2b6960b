// Package cells is arithmetic on square grids of n x n cells: sets of cells and
// their morphology, gaps filled from their surroundings, basins, running means.
// It knows nothing of targets or millimetres: lengths are in cells, measured
// between the cells' centres, and cell (i, j) has the index k = j n + i.
package cells

import (
	"slices"
)

// Set is a set of cells of an n x n grid.
type Set struct {
	N  int
	In []bool // by index k = j N + i
}

// New is the empty set.
func New(n int) Set { return Set{n, make([]bool, n*n)} }

// Of is the set of the cells with these indices.
func Of(n int, indices []int) Set {
	s := New(n)
	for _, k := range indices {
		s.In[k] = true
	}
	return s
}

// Count is how many cells are in the set.
func (s Set) Count() int {
	c := 0
	for _, b := range s.In {
		if b {
			c++
		}
	}
	return c
}

// Complement is every cell not in the set.
func (s Set) Complement() Set {
	out := New(s.N)
	for k, in := range s.In {
		out.In[k] = !in
	}
	return out
}

// Grown is the set of cells within r cells of the set: its dilation by a disc.
func (s Set) Grown(r float64) Set {
	out := New(s.N)
	for k, d := range s.Distance() {
		out.In[k] = d <= r
	}
	return out
}

// Dilation and erosion by a disc of radius r are thresholds of the distance:
// a cell is in the dilation when the set lies within r of it, and in the erosion
// when the complement does not.

// Opened drops what is narrower than 2 r cells: erosion by a disc, then
// dilation by the same. It is the union of all discs of radius r that fit into the set (J.
// Serra, Image Analysis and Mathematical Morphology, 1982): what no such disc reaches goes,
// and what stays keeps its place, with corners rounded to r.
func (s Set) Opened(r float64) Set {
	core := s.Complement().Grown(r).Complement()
	if core.Count() == 0 {
		return core
	}
	return core.Grown(r)
}

// Closed joins what lies less than 2 r cells apart: dilation by a disc, then
// erosion by the same: the opening of the complement.
func (s Set) Closed(r float64) Set {
	return s.Grown(r).Complement().Grown(r).Complement()
}

// Filled adds the holes: cells that cannot be reached from the grid's border
// over the sides of cells that are not in the set.
func (s Set) Filled() Set {
	out := New(s.N)
	for k := range out.In {
		out.In[k] = true
	}
	outside := s.Complement()
	for k := range outside.In {
		if x, y := k%s.N, k/s.N; (x == 0 || y == 0 || x == s.N-1 || y == s.N-1) && outside.In[k] && out.In[k] {
			outside.flood(k, func(c int) { out.In[c] = false }, func(c int) bool { return out.In[c] })
		}
	}
	return out
}

// 4-connected: cells are neighbours over their sides, not over their corners. A
// closed curve of cells that touch at corners then separates inside from outside, as a
// thin ring of char does.

// flood visits the 4-connected cells of the set from a start, as long as
// fresh says they have not been visited.
func (s Set) flood(start int, visit func(int), fresh func(int) bool) {
	stack := []int{start}
	visit(start)
	for len(stack) > 0 {
		k := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		x, y := k%s.N, k/s.N
		for _, d := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			i, j := x+d[0], y+d[1]
			if i < 0 || j < 0 || i >= s.N || j >= s.N {
				continue
			}
			if c := j*s.N + i; s.In[c] && fresh(c) {
				visit(c)
				stack = append(stack, c)
			}
		}
	}
}

// Parts splits the set into its 4-connected parts, each its indices in rising
// order.
func (s Set) Parts() [][]int {
	seen := make([]bool, len(s.In))
	var out [][]int
	for k := range s.In {
		if !s.In[k] || seen[k] {
			continue
		}
		var part []int
		s.flood(k, func(c int) { seen[c] = true; part = append(part, c) }, func(c int) bool { return !seen[c] })
		slices.Sort(part)
		out = append(out, part)
	}
	return out
}

// halfCell takes a distance that was counted to the middle of the first cell
// outside back to that cell's side.
const halfCell = 0.5

// Inscribed is the radius in cells of the largest circle within the set: the largest
// distance of a cell to one outside, which is where the set's middle line is thickest.
func (s Set) Inscribed() float64 { return slices.Max(s.Complement().Distance()) - halfCell }

// InscribedIn is the radius in cells of the largest circle within a part of a
// set, from the set's depth: the Distance of its Complement.
func InscribedIn(depth []float64, part []int) float64 {
	r := 0.0
	for _, k := range part {
		r = max(r, depth[k])
	}
	return r - halfCell
}

// Edge says whether a cell of the set lies at the grid's border or beside a
// cell that is not in the set.
func (s Set) Edge(k int) bool {
	x, y := k%s.N, k/s.N
	return x == 0 || y == 0 || x == s.N-1 || y == s.N-1 || !s.In[k-1] || !s.In[k+1] || !s.In[k-s.N] || !s.In[k+s.N]
}
