package raster

// Window keeps the rows about the one in hand, as many as a stage of the work looks at:
// a row that is worked on while the processor still has it at hand costs a fraction of
// one fetched again from a picture of 144 MB, and no such picture has to be kept. Rows
// are asked for downward.
type Window[R any] struct {
	height int
	fill   func(out R, y int)
	keep   []R
	holds  []int // the row that each holds, -1: none
	list   []R   // scratch of about
}

// NewWindow keeps so many rows to either side of one. empty makes room for one.
func NewWindow[R any](height, reach int, empty func() R, fill func(out R, y int)) *Window[R] {
	w := &Window[R]{height: height, fill: fill, list: make([]R, 2*reach+1)}
	for range w.list {
		w.keep, w.holds = append(w.keep, empty()), append(w.holds, -1)
	}
	return w
}

// Row is the row y; beyond the picture its first or last one again.
func (w *Window[R]) Row(y int) R {
	y = min(max(y, 0), w.height-1)
	i := y % len(w.keep)
	if w.holds[i] != y {
		w.fill(w.keep[i], y)
		w.holds[i] = y
	}
	return w.keep[i]
}

// About are all the rows that are kept, with y in their middle.
func (w *Window[R]) About(y int) []R {
	for i := range w.list {
		w.list[i] = w.Row(y + i - len(w.list)/2)
	}
	return w.list
}
