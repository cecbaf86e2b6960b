package cells

import (
	"math"
	"sync"
)

// InRows runs work on every row of 0..n-1, two at a time.
func InRows(n int, work func(row int)) {
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

// farAway stands for "no cell of the set": a squared distance beyond that of any grid, and
// small enough that a double holds it with a squared distance added, exactly.
const farAway = 1e12

// Distance is, for every cell, the distance in cells to the nearest cell of the
// set; 0 within it, and 1e6 everywhere when the set is empty.
//
// The squared distance splits into columns and rows,
//
//	d²(x, y) = min over q of (x-q)² + min over p of (y-p)² + f(q, p),
//
// where f is 0 in the set and farAway outside: one one-dimensional transform
// along every row and then one along every column (P. Felzenszwalb, D.
// Huttenlocher, "Distance transforms of sampled functions", Theory of Computing
// 8 (2012) 415).
func (s Set) Distance() []float64 {
	n := s.N
	d := make([]float64, n*n)
	for k, in := range s.In {
		if !in {
			d[k] = farAway
		}
	}
	inHalves(n, func(e *envelope, j int) { e.transform(d[j*n:(j+1)*n], 1) })
	inHalves(n, func(e *envelope, i int) { e.transform(d[i:], n) })
	for k, v := range d {
		d[k] = math.Sqrt(v)
	}
	return d
}

// inHalves does n lines, one half of them side by side with the other half.
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

// The one-dimensional transform of f along a line is the lower envelope of one
// parabola for each cell q, of which each is lowest on one stretch at most. They
// are all of the same shape, so that two of them meet once.

// envelope is the lower envelope of n parabolas y = (x-q)² + f(q), one for each
// cell q of a line.
type envelope struct {
	n int
	f []float64 // height of each parabola's foot
	v []int     // feet of the parabolas that are lowest somewhere, from left to right
	z []float64 // where each of those takes over from the one before
}

func newEnvelope(n int) *envelope {
	return &envelope{n, make([]float64, n), make([]int, n), make([]float64, n+1)}
}

// meet is where the parabolas with feet q and p < q are equally high:
// (x-q)² + f(q) = (x-p)² + f(p).
func (e *envelope) meet(q, p int) float64 {
	return ((e.f[q] + float64(q*q)) - (e.f[p] + float64(p*p))) / float64(2*(q-p))
}

// transform replaces n squared distances, stride apart, by their
// one-dimensional transform: the height of the lower envelope at each cell.
func (e *envelope) transform(d []float64, stride int) {
	for q := range e.n {
		e.f[q] = d[q*stride]
	}
	e.build()
	k := 0
	for q := range e.n {
		for e.z[k+1] < float64(q) {
			k++
		}
		t := float64(q - e.v[k])
		d[q*stride] = t*t + e.f[e.v[k]]
	}
}

// build finds the parabolas of the envelope: each new one takes over where it
// meets the last, and covers those that would take over later.
func (e *envelope) build() {
	k := 0
	e.v[0], e.z[0], e.z[1] = 0, math.Inf(-1), math.Inf(1)
	for q := 1; q < e.n; q++ {
		s := e.meet(q, e.v[k])
		for s <= e.z[k] {
			k--
			s = e.meet(q, e.v[k])
		}
		k++
		e.v[k], e.z[k], e.z[k+1] = q, s, math.Inf(1)
	}
}
