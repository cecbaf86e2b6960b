package rehearsal

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
		c.r.look(k.row, y, 0, len(k.row), 1)
		return k.row
	}
	// The target's own corners, with one more all round for the pixels at its border.
	x0, x1 := max(c.r.box[0]-1, 0), min(c.r.box[2]+2, len(k.row))
	if y < c.r.box[1]-1 || y > c.r.box[3]+1 {
		x0, x1 = 0, 0
	}
	if y&1 == 0 {
		c.r.lookSparsely(k.row, y, x0, x1)
		return k.row
	}
	above, below := c.at(y-1), c.at(y+1)
	for x := range k.row {
		k.row[x] = above[x].Plus(below[x]).Times(0.5)
	}
	c.r.look(k.row, y, x0, x1, 1)
	return k.row
}

// look fills every step-th corner from..to-1 of a row.
func (r *renderer) look(row []RGB, y, from, to, step int) {
	for x := from; x < to; x += step {
		row[x] = r.scene.radiance(r.view.at(float64(x)-0.5, float64(y)-0.5))
	}
}

// lookSparsely fills a row: every corner from x0 to x1-1, every other one elsewhere,
// and between them their mean.
func (r *renderer) lookSparsely(row []RGB, y, x0, x1 int) {
	r.look(row, y, 0, x0, 2)
	r.look(row, y, x0, x1, 1)
	r.look(row, y, x1+x1&1, len(row), 2)
	last := len(row) - 1
	for x := 1; x <= last; x += 2 {
		if x >= x0 && x < x1 {
			continue
		}
		row[x] = row[x-1]
		if x < last {
			row[x] = row[x-1].Plus(row[x+1]).Times(0.5)
		}
	}
}
