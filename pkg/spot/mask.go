package spot

import (
	"math"
	"slices"
	"sync"
)

// mask is a set of cells of an n x n picture.
type mask struct {
	n  int
	in []bool
}

func newMask(n int) mask { return mask{n, make([]bool, n*n)} }

func (m mask) count() int {
	c := 0
	for _, b := range m.in {
		if b {
			c++
		}
	}
	return c
}

// inRows runs work on every row, two at a time.
func inRows(n int, work func(row int)) {
	var wait sync.WaitGroup
	wait.Go(func() {
		for j := 0; j < n; j += 2 {
			work(j)
		}
	})
	for j := 1; j < n; j += 2 {
		work(j)
	}
	wait.Wait()
}

// distance is, for every cell, the distance in cells to the nearest cell of
// the set (P. Felzenszwalb, D. Huttenlocher, "Distance transforms of sampled
// functions", Theory of Computing 8 (2012) 415: lower envelope of parabolas).
func (m mask) distance() []float64 {
	n := m.n
	d := make([]float64, n*n)
	for k, in := range m.in {
		if !in {
			d[k] = 1e12
		}
	}
	inHalves(n, func(e *envelope, j int) { e.run(d[j*n:(j+1)*n], 1) })
	inHalves(n, func(e *envelope, i int) { e.run(d[i:], n) })
	for k, v := range d {
		d[k] = math.Sqrt(v)
	}
	return d
}

// inHalves does n lines, half of them side by side with the other half.
func inHalves(n int, line func(e *envelope, i int)) {
	var wait sync.WaitGroup
	for _, half := range [2][2]int{{0, n / 2}, {n / 2, n}} {
		wait.Go(func() {
			e := newEnvelope(n)
			for i := half[0]; i < half[1]; i++ {
				line(e, i)
			}
		})
	}
	wait.Wait()
}

type envelope struct {
	n int
	f []float64
	v []int
	z []float64
}

func newEnvelope(n int) *envelope {
	return &envelope{n, make([]float64, n), make([]int, n), make([]float64, n+1)}
}

// run replaces n squared distances, stride apart, by their one-dimensional
// transform.
func (e *envelope) run(d []float64, stride int) {
	n := e.n
	for q := range n {
		e.f[q] = d[q*stride]
	}
	meet := func(q, p int) float64 {
		return ((e.f[q] + float64(q*q)) - (e.f[p] + float64(p*p))) / float64(2*(q-p))
	}
	k := 0
	e.v[0], e.z[0], e.z[1] = 0, math.Inf(-1), math.Inf(1)
	for q := 1; q < n; q++ {
		s := meet(q, e.v[k])
		for s <= e.z[k] {
			k--
			s = meet(q, e.v[k])
		}
		k++
		e.v[k], e.z[k], e.z[k+1] = q, s, math.Inf(1)
	}
	k = 0
	for q := range n {
		for e.z[k+1] < float64(q) {
			k++
		}
		t := float64(q - e.v[k])
		d[q*stride] = t*t + e.f[e.v[k]]
	}
}

// grown is the set of cells within r cells of the set.
func (m mask) grown(r float64) mask {
	out := newMask(m.n)
	for k, d := range m.distance() {
		out.in[k] = d <= r
	}
	return out
}

// complement is every cell not in the set.
func (m mask) complement() mask {
	out := newMask(m.n)
	for k, in := range m.in {
		out.in[k] = !in
	}
	return out
}

// opened drops what is narrower than 2 r cells.
func (m mask) opened(r float64) mask {
	core := m.complement().grown(r).complement()
	if core.count() == 0 {
		return core
	}
	return core.grown(r)
}

// filled adds the holes: cells that cannot be reached from the border.
func (m mask) filled() mask {
	out := newMask(m.n)
	for k := range out.in {
		out.in[k] = true
	}
	outside := m.complement()
	for k := range outside.in {
		if x, y := k%m.n, k/m.n; (x == 0 || y == 0 || x == m.n-1 || y == m.n-1) && outside.in[k] && out.in[k] {
			outside.flood(k, func(c int) { out.in[c] = false }, func(c int) bool { return out.in[c] })
		}
	}
	return out
}

// flood visits the 4-connected cells of the set from a start, as long as
// fresh says they have not been visited.
func (m mask) flood(start int, visit func(int), fresh func(int) bool) {
	stack := []int{start}
	visit(start)
	for len(stack) > 0 {
		k := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		x, y := k%m.n, k/m.n
		for _, d := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			i, j := x+d[0], y+d[1]
			if i < 0 || j < 0 || i >= m.n || j >= m.n {
				continue
			}
			if c := j*m.n + i; m.in[c] && fresh(c) {
				visit(c)
				stack = append(stack, c)
			}
		}
	}
}

// parts splits the set into its 4-connected parts, each its cells in rising
// order.
func (m mask) parts() [][]int {
	seen := make([]bool, len(m.in))
	var out [][]int
	for k := range m.in {
		if !m.in[k] || seen[k] {
			continue
		}
		var part []int
		m.flood(k, func(c int) { seen[c] = true; part = append(part, c) }, func(c int) bool { return !seen[c] })
		slices.Sort(part)
		out = append(out, part)
	}
	return out
}

// inscribed is the radius in cells of the largest circle within the set.
func (m mask) inscribed() float64 {
	return slices.Max(m.complement().distance()) - 0.5 // counted from the middle of the first cell outside
}

// edge tells whether a cell of the set has a neighbour that is not in it.
func (m mask) edge(k int) bool {
	x, y := k%m.n, k/m.n
	return x == 0 || y == 0 || x == m.n-1 || y == m.n-1 || !m.in[k-1] || !m.in[k+1] || !m.in[k-m.n] || !m.in[k+m.n]
}

// maskOf is the set of the given cells.
func maskOf(n int, cells []int) mask {
	m := newMask(n)
	for _, k := range cells {
		m.in[k] = true
	}
	return m
}
