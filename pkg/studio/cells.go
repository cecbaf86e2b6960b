package studio

import (
	"math"

	"burngauge.dev/burngauge/pkg/studio/raster"
)

// cells renders quickly: in cells of two by two pixels, of whose nine corners it looks at
// the outer four. The five between are means of their neighbours where these hardly
// differ, else they are looked at too.
type cells struct {
	r                    *renderer
	y                    int            // upper row of pixels in hand, always even; -1 none
	upper, middle, lower []RGB          // the corners above, between and below the two rows
	pixels               [2]raster.Line // the two rows
}

// unknown marks a corner that nobody has asked for yet, in its red.
var unknown = math.NaN()

func newCells(r *renderer) *cells {
	k := &cells{r: r, y: -1}
	for _, row := range []*[]RGB{&k.upper, &k.middle, &k.lower} {
		*row = make([]RGB, r.width+1)
	}
	for i := range k.pixels {
		k.pixels[i] = raster.NewLine(r.width)
	}
	return k
}

// row renders the row y of pixels, with its neighbour in the cells. Rows of pixels 2k and
// 2k + 1 make up the cells between the corners' rows 2k and 2k + 2.
func (k *cells) row(y int) raster.Line {
	if even := y &^ 1; even != k.y {
		k.descend(even)
		k.render()
	}
	return k.pixels[y&1]
}

// descend looks at the corners about the rows y and y+1.
func (k *cells) descend(y int) {
	if k.y >= 0 && k.y+2 == y {
		k.upper, k.lower = k.lower, k.upper
	} else {
		k.look(k.upper, y)
	}
	k.look(k.lower, y+2)
	for x := range k.middle {
		k.middle[x].R = unknown
	}
	k.y = y
}

// look looks at every other corner of a row.
func (k *cells) look(row []RGB, y int) {
	for x := range row {
		if x&1 == 0 {
			row[x] = k.r.look(x, y)
		} else {
			row[x].R = unknown
		}
	}
}

func (k *cells) render() {
	for x := 0; x < k.r.width; x += 2 {
		if x+2 <= k.r.width && k.smooth(x) {
			k.average(x)
			continue
		}
		for y := k.y; y < min(k.y+2, k.r.height); y++ {
			for i := x; i < min(x+2, k.r.width); i++ {
				k.r.pixel(k.pixels[y&1], i, y, [4]*RGB{k.corner(i, y), k.corner(i+1, y), k.corner(i, y+1), k.corner(i+1, y+1)})
			}
		}
	}
}

// smooth reports whether the cell's outer corners differ so little that nothing in it
// needs another look: means of them lie between them. It answers as between and differ would,
// or errs to the careful side.
func (k *cells) smooth(x int) bool {
	share, box := edgeOutside, &k.r.box
	if x+2 >= box[0] && x < box[2] && k.y+2 >= box[1] && k.y < box[3] {
		share = edgeInside
	}
	a, b, c, d := &k.upper[x], &k.upper[x+2], &k.lower[x], &k.lower[x+2]
	return even(a.R, b.R, c.R, d.R, share) && even(a.G, b.G, c.G, d.G, share) && even(a.B, b.B, c.B, d.B, share)
}

// even is smooth for one channel. If the outer corners differ by no more than the least that
// between would look at, which is share/2 of their mean, then no two of the nine corners do,
// and no pixel's four differ by more than differ allows: one comparison for nine.
func even(a, b, c, d, share float64) bool {
	low, high := extremes(a, b, c, d)
	return high-low <= (1-rounding)*(share/2*low+leastLook)
}

// average renders a smooth cell. It sums as pixel does.
func (k *cells) average(x int) {
	a, b, c, d := &k.upper[x], &k.upper[x+2], &k.lower[x], &k.lower[x+2]
	k.channel(0, x, a.R, b.R, c.R, d.R)
	k.channel(1, x, a.G, b.G, c.G, d.G)
	k.channel(2, x, a.B, b.B, c.B, d.B)
}

// channel is average for one channel. The corners are a b c, d e f, g h j from the top; the
// five between are b = (a+c)/2, d = (a+g)/2, f = (c+j)/2, h = (g+j)/2, e = (b+h)/2, and each
// pixel is the mean of its own four.
func (k *cells) channel(i, x int, a, c, g, j float64) {
	b, d, f, h := (a+c)*0.5, (a+g)*0.5, (c+j)*0.5, (g+j)*0.5
	e := (b + h) * 0.5
	top, low := k.pixels[0][i][x:x+2], k.pixels[1][i][x:x+2]
	top[0], top[1] = float32((a+b+d+e)*0.25), float32((b+c+e+f)*0.25)
	low[0], low[1] = float32((d+e+g+h)*0.25), float32((e+f+h+j)*0.25)
}

// corner is the light at the corner above and left of the pixel (x, y) of the cells in hand.
func (k *cells) corner(x, y int) *RGB {
	row := k.upper
	switch y {
	case k.y + 1:
		return k.inner(x)
	case k.y + 2:
		row = k.lower
	}
	return k.outer(row, x, y)
}

// outer is a corner above or below the cells.
func (k *cells) outer(row []RGB, x, y int) *RGB {
	out := &row[x]
	if !math.IsNaN(out.R) {
		return out
	}
	if x == len(row)-1 {
		*out = k.r.look(x, y)
	} else {
		k.between(out, &row[x-1], &row[x+1], x, y)
	}
	return out
}

// inner is a corner between the cells' two rows.
func (k *cells) inner(x int) *RGB {
	out := &k.middle[x]
	if math.IsNaN(out.R) {
		k.between(out, k.outer(k.upper, x, k.y), k.outer(k.lower, x, k.y+2), x, k.y+1)
	}
	return out
}

// leastLook: light that differs by less needs no look between.
const leastLook = 0.001

// between is the mean of two neighbours of a corner or, when they differ by half
// of what makes a pixel be sampled finely, a look at the corner itself.
func (k *cells) between(out, a, b *RGB, x, y int) {
	share := edgeOutside / 2
	if k.r.inBox(x, y) {
		share = edgeInside / 2
	}
	unlike := func(a, b float64) bool { return math.Abs(a-b) > share*(a+b)/2+leastLook }
	if unlike(a.R, b.R) || unlike(a.G, b.G) || unlike(a.B, b.B) {
		*out = k.r.look(x, y)
		return
	}
	*out = a.Plus(*b).Times(0.5)
}
