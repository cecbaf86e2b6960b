package rehearsal

import "math"

// cornerRows looks at the corners of the pixels, row after row downward, and
// keeps the last few rows.
type cornerRows struct {
	r    *renderer
	keep [4]cornerRow
}

type cornerRow struct {
	y      int
	filled bool
	row    []RGB
}

func newCornerRows(r *renderer) *cornerRows {
	c := &cornerRows{r: r}
	for i := range c.keep {
		c.keep[i].row = make([]RGB, r.pic.Width+1)
	}
	return c
}

// at is the row of the pixels' corners above the picture's row y. Rows of a
// picture are asked for downward.
func (c *cornerRows) at(y int) []RGB {
	k := &c.keep[y&3]
	if k.filled && k.y == y {
		return k.row
	}
	k.y, k.filled = y, true
	if !c.r.sparse {
		for x := range k.row {
			k.row[x] = c.r.look(x, y)
		}
		return k.row
	}
	if y&1 == 0 {
		c.r.lookSparsely(k.row, y)
		return k.row
	}
	above, below := c.at(y-1), c.at(y+1)
	for x := range k.row {
		c.r.between(&k.row[x], &above[x], &below[x], x, y)
	}
	return k.row
}

// look is the light at the corner above and left of the pixel (x, y).
func (r *renderer) look(x, y int) RGB {
	return r.scene.radiance(r.view.at(float64(x)-0.5, float64(y)-0.5))
}

// lookSparsely looks at every other corner of a row and fills in between.
func (r *renderer) lookSparsely(row []RGB, y int) {
	for x := 0; x < len(row); x += 2 {
		row[x] = r.look(x, y)
	}
	last := len(row) - 1
	for x := 1; x <= last; x += 2 {
		if x == last {
			row[x] = r.look(x, y)
			continue
		}
		r.between(&row[x], &row[x-1], &row[x+1], x, y)
	}
}

// between is the mean of two neighbours of a corner or, when they differ by half
// of what makes a pixel be sampled finely, a look at the corner itself. out is its place.
func (r *renderer) between(out, a, b *RGB, x, y int) {
	share := edgeOutside / 2
	if r.inBox(x, y) {
		share = edgeInside / 2
	}
	for c := range 3 {
		if math.Abs(a[c]-b[c]) > share*(a[c]+b[c])/2+0.001 {
			*out = r.look(x, y)
			return
		}
		out[c] = (a[c] + b[c]) * 0.5
	}
}
