package darkroom

import (
	"math"

	"gonum.org/v1/gonum/floats"

	"burngauge.dev/burngauge/pkg/studio/raster"
)

// wide is a line with room for sums.
type wide [3][]float64

// newWide is a row of zeros.
func newWide(width int) (l wide) {
	for c := range l {
		l[c] = make([]float64, width)
	}
	return l
}

// discBlur averages over a disc, radius in px, as a lens out of focus does (its disc of
// confusion, without diffraction). The disc's rim pixels count whole or not at all.
//
// A row of the disc, dy off its middle, is the pixels with |dx| <= √(radius² - dy²). Their
// sum is the difference of two running sums S(x) = Σ p(i), i < x, along the row:
// S(x + half + 1) - S(x - half), whatever the radius. Beyond the picture nothing is counted.
func discBlur(width, height int, radius float64, of raster.Rows) raster.Rows {
	n := int(radius)
	d := &disc{radius: radius, height: height, reach: n, out: raster.NewLine(width),
		sum: make([]float64, width), count: make([]float64, width)}
	// Running sums along each row: entry n+x holds the sum of the pixels before x, and n
	// more at either end stand for the ends themselves.
	d.sums = raster.NewWindow(height, n, func() wide { return newWide(width + 1 + 2*n) }, func(out wide, y int) {
		for c, colour := range of(y) {
			runningSums(out[c], colour, n)
		}
	})
	d.ones = make([]float64, width+1+2*n)
	even := make([]float32, width)
	for x := range even {
		even[x] = 1
	}
	runningSums(d.ones, even, n)
	return d.row
}

// runningSums fills in the sums along one colour of a row: S(0) = 0, S(x+1) = S(x) + p(x). The
// pad entries before hold 0 and those after the whole sum: places beyond the ends add nothing.
// Sums are kept in 64 bits, since differences of sums over thousands of pixels are wanted.
func runningSums(out []float64, in []float32, pad int) {
	clear(out[:pad+1])
	sum, rest := 0.0, out[pad+1:]
	for x, v := range in {
		sum += float64(v)
		rest[x] = sum
	}
	for x := len(in); x < len(rest); x++ {
		rest[x] = sum
	}
}

// disc is discBlur's work on one processor.
type disc struct {
	radius        float64
	height, reach int
	sums          *raster.Window[wide]
	ones          []float64 // running sums of a row of ones: they count pixels
	sum, count    []float64
	out           raster.Line
}

// row is the mean over the disc at each pixel of a row: sum of light over count of pixels.
func (d *disc) row(y int) raster.Line {
	about := d.sums.About(y)
	d.add(d.count, y, func(int) []float64 { return d.ones })
	for c, out := range d.out {
		d.add(d.sum, y, func(j int) []float64 { return about[j][c] })
		for x, v := range d.sum {
			out[x] = float32(v / d.count[x])
		}
	}
	return d.out
}

// add sums over the disc at each pixel of the row y, as far as it lies in the picture.
// sums gives the running sums of one of the rows about it. Given rows of ones it counts the
// disc's pixels, which are fewer at the picture's border.
func (d *disc) add(out []float64, y int, sums func(j int) []float64) {
	clear(out)
	for j := range 2*d.reach + 1 {
		dy := j - d.reach
		if y+dy < 0 || y+dy >= d.height {
			continue
		}
		half := int(math.Sqrt(d.radius*d.radius - float64(dy*dy)))
		row := sums(j)
		from, to := row[d.reach-half:], row[d.reach+half+1:]
		for x := range out {
			out[x] += to[x] - from[x]
		}
	}
}

// shake averages along a straight path centred on each pixel, so that nothing moves on
// average; length in px, deg from x to y. The path is looked at in n places,
//
//	t(k) · (cos, sin) deg,   t(k) = length · (k/(n-1) - 1/2),   k = 0 .. n-1,
//
// two a pixel and both its ends: an even motion while the shutter is open.
func shake(width, height int, length, deg float64, of raster.Rows) raster.Rows {
	s, c := math.Sincos(deg * math.Pi / 180)
	path := make([]*track, 2*int(math.Ceil(length))+1)
	reach := int(math.Ceil(length/2)) + 1
	light := raster.NewWindow(height, reach, func() raster.Line { return raster.NewLine(width) }, func(out raster.Line, y int) {
		for c, colour := range of(y) {
			copy(out[c], colour)
		}
	})
	for k := range path {
		t := length * (float64(k)/float64(len(path)-1) - 0.5)
		path[k] = newTrack(width, height, t*c, t*s, light)
	}
	sum, out := newWide(width), raster.NewLine(width)
	return func(y int) raster.Line {
		light.About(y) // fetches them in order
		for c := range sum {
			clear(sum[c])
		}
		for _, t := range path {
			t.add(sum, y)
		}
		for c := range sum {
			for x, v := range sum[c] {
				out[c][x] = float32(v / float64(len(path)))
			}
		}
		return out
	}
}

// track looks at a picture from each pixel in the same direction, as far, between the
// pixels; the border repeats. Bilinear interpolation: with the place's shares u, v between
// four pixels, (1-v) ((1-u) a + u b) + v ((1-u) c + u d).
type track struct {
	dy     float64
	height int
	along  *raster.Window[wide] // rows as seen between their pixels
	at     []int32              // the pixel on the left of each place looked at
	share  []float64            // and the right one's share
	mixed  []float64            // scratch of add
}

// newTrack works out once which pixels each place lies between.
func newTrack(width, height int, dx, dy float64, of *raster.Window[raster.Line]) *track {
	t := &track{dy: dy, height: height, at: make([]int32, width), share: make([]float64, width), mixed: make([]float64, width)}
	for x := range t.at {
		place := min(max(float64(x)+dx, 0), float64(width-1))
		i := min(int(place), width-2)
		t.at[x], t.share[x] = int32(i), place-float64(i)
	}
	t.along = raster.NewWindow(height, 1, func() wide { return newWide(width) }, func(out wide, y int) {
		for c, colour := range of.Row(y) {
			t.between(out[c], colour)
		}
	})
	return t
}

// between is one colour of a row as seen between its pixels.
func (t *track) between(out []float64, in []float32) {
	for x, i := range t.at {
		u := t.share[x]
		out[x] = float64(in[i])*(1-u) + float64(in[i+1])*u
	}
}

// add adds what is seen from the pixels of the row y: of the two rows that the place dy below
// lies between, each by its share.
func (t *track) add(sum wide, y int) {
	place := min(max(float64(y)+t.dy, 0), float64(t.height-1))
	i := min(int(place), t.height-2)
	v := place - float64(i)
	top, low := t.along.Row(i), t.along.Row(i+1)
	for c := range sum {
		floats.ScaleTo(t.mixed, 1-v, top[c])
		floats.AddScaled(t.mixed, v, low[c])
		floats.Add(sum[c], t.mixed)
	}
}
