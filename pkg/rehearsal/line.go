package rehearsal

// line is one row of a picture, colour by colour: red, green, blue. Sums along whole
// colours are several times quicker than along pixels.
type line [3][]float32

// newLine is a row of black pixels.
func newLine(width int) (l line) {
	for c := range l {
		l[c] = make([]float32, width)
	}
	return l
}

// set sets a pixel.
func (l *line) set(x int, c RGB) {
	l[0][x], l[1][x], l[2][x] = float32(c.R), float32(c.G), float32(c.B)
}

// rows gives a picture's row y. It holds until the next call.
type rows func(y int) line

// rows of the picture.
func (p *Picture) rows() rows {
	out := newLine(p.Width)
	return func(y int) line {
		for x, row := 0, p.row(y); x < p.Width; x, row = x+1, row[3:] {
			out[0][x], out[1][x], out[2][x] = row[0], row[1], row[2]
		}
		return out
	}
}

// put writes a row into the picture.
func (p *Picture) put(y int, l line) {
	for x, row := 0, p.row(y); x < p.Width; x, row = x+1, row[3:] {
		row[0], row[1], row[2] = l[0][x], l[1][x], l[2][x]
	}
}

// window keeps the rows about the one in hand, as many as a stage of the work looks at:
// a row that is worked on while the processor still has it at hand costs a fraction of
// one fetched again from a picture of 144 MB, and no such picture has to be kept. Rows
// are asked for downward.
type window[R any] struct {
	height int
	fill   func(out R, y int)
	keep   []R
	holds  []int // the row that each holds, -1: none
	list   []R   // scratch of about
}

// newWindow keeps so many rows to either side of one. empty makes room for one.
func newWindow[R any](height, reach int, empty func() R, fill func(out R, y int)) *window[R] {
	w := &window[R]{height: height, fill: fill, list: make([]R, 2*reach+1)}
	for range w.list {
		w.keep, w.holds = append(w.keep, empty()), append(w.holds, -1)
	}
	return w
}

// row is the row y; beyond the picture its first or last one again.
func (w *window[R]) row(y int) R {
	y = min(max(y, 0), w.height-1)
	i := y % len(w.keep)
	if w.holds[i] != y {
		w.fill(w.keep[i], y)
		w.holds[i] = y
	}
	return w.keep[i]
}

// about are all the rows that are kept, with y in their middle.
func (w *window[R]) about(y int) []R {
	for i := range w.list {
		w.list[i] = w.row(y + i - len(w.list)/2)
	}
	return w.list
}
