package cells

import "container/heap"

// FillBasins raises, in place, every basin of the values within a set to the
// value of the lowest way out of it to the grid's border: no cell of the set
// stays lower than all that surrounds it. Values outside the set stay. The new value of a
// cell k is
//
//	min over all ways from k to the border of  max over the way of  value,
//
// the level to which water would stand at k.
//
// Cells are taken from a heap, lowest first, starting at the border; each is at
// least as high as the way by which it was reached. (Priority flood: R. Barnes,
// C. Lehman, D. Mulla, Computers & Geosciences 62 (2014) 117.)
func FillBasins(values []float64, set Set) {
	f := flooding{values: values, done: make([]bool, len(values))}
	for i := range set.N {
		for _, k := range [4]int{i, (set.N-1)*set.N + i, i * set.N, i*set.N + set.N - 1} {
			if !f.done[k] {
				f.reach(k)
			}
		}
	}
	for f.queue.Len() > 0 {
		c := heap.Pop(&f.queue).(reached)
		for _, k := range [4]int{c.k - 1, c.k + 1, c.k - set.N, c.k + set.N} {
			if k < 0 || k >= len(values) || f.done[k] {
				continue
			}
			if set.In[k] {
				values[k] = max(values[k], c.v)
			}
			f.reach(k)
		}
	}
}

// Why the heap's order suffices: the lowest cell that was reached can be reached
// no lower, since every way to it crosses a cell that is still in the heap, and all of
// these are as high or higher. It is Dijkstra's search with the maximum along a way in place
// of its length; each cell enters the heap once, so that n cells cost n log n.

// flooding is the state of one flood.
type flooding struct {
	values []float64
	done   []bool
	queue  lowestFirst
}

// reach puts a cell into the queue with its present value.
func (f *flooding) reach(k int) {
	f.done[k] = true
	heap.Push(&f.queue, reached{k, f.values[k]})
}

// reached is a cell that the flood has come to.
type reached struct {
	k int
	v float64
}

// lowestFirst is a heap of cells.
type lowestFirst []reached

func (q lowestFirst) Len() int           { return len(q) }
func (q lowestFirst) Less(i, j int) bool { return q[i].v < q[j].v }
func (q lowestFirst) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *lowestFirst) Push(x any)        { *q = append(*q, x.(reached)) }
func (q *lowestFirst) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}
