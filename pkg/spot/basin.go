package spot

import "container/heap"

// fillBasins raises every paler basin inside the mark (ash, a hole burnt
// through) to the darkness of the lowest way out of it, so that it counts as
// dark. (Priority flood: R. Barnes, C. Lehman, D. Mulla, Computers &
// Geosciences 62 (2014) 117.)
func (d *darkness) fillBasins() {
	q := &byDarkness{}
	done := make([]bool, len(d.value))
	push := func(k int, v float64) {
		done[k] = true
		heap.Push(q, basin{k, v})
	}
	for i := range d.n {
		for _, k := range [4]int{i, (d.n-1)*d.n + i, i * d.n, i*d.n + d.n - 1} {
			if !done[k] {
				push(k, d.value[k])
			}
		}
	}
	for q.Len() > 0 {
		c := heap.Pop(q).(basin)
		for _, k := range [4]int{c.k - 1, c.k + 1, c.k - d.n, c.k + d.n} {
			if k < 0 || k >= len(done) || done[k] {
				continue
			}
			if d.core.in[k] {
				d.value[k] = max(d.value[k], c.v)
			}
			push(k, d.value[k])
		}
	}
}

type basin struct {
	k int
	v float64
}

// byDarkness is a heap, palest first.
type byDarkness []basin

func (q byDarkness) Len() int           { return len(q) }
func (q byDarkness) Less(i, j int) bool { return q[i].v < q[j].v }
func (q byDarkness) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *byDarkness) Push(x any)        { *q = append(*q, x.(basin)) }
func (q *byDarkness) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}
