package rehearsal

import "math"

// gaussianRows blurs, sigma in px, and hands over each blurred row as soon as it is
// there: a row that is worked on while the processor still has it at hand costs a
// fraction of one fetched again from a picture of 144 MB. The border repeats the last
// pixel; 0 blurs nothing. The rows go to out or, when that is nil, nowhere. each is
// called once for every row, on all processors at once, and may change the row.
func gaussianRows(out, pic *Picture, sigma float64, each func(y int, row []float32)) {
	kernel := gaussian(sigma)
	inBlocksOf(bandRows, pic.Height, func(from, to int) {
		b := newBand(pic, kernel)
		row := make([]float32, 3*pic.Width)
		for y := from; y < to; y++ {
			if out != nil {
				row = out.row(y)
			}
			b.blurColumns(row, y)
			each(y, row)
		}
	})
}

// bandRows: the rows just beyond each block are blurred twice, which is a tenth of
// the work with the widest kernel of a phone's sharpening.
const bandRows = 128

// band keeps the rows about the one in hand, each blurred along itself.
type band struct {
	pic    *Picture
	kernel []float32
	rows   [][]float32 // row y is at y modulo their number
	holds  []int       // which one each is
}

func newBand(pic *Picture, kernel []float32) *band {
	b := &band{pic: pic, kernel: kernel}
	for range 2*len(kernel) - 1 {
		b.rows, b.holds = append(b.rows, make([]float32, 3*pic.Width)), append(b.holds, -1)
	}
	return b
}

// line is a row blurred along itself.
func (b *band) line(y int) []float32 {
	y = min(max(y, 0), b.pic.Height-1)
	i := y % len(b.rows)
	if b.holds[i] != y {
		blurRow(b.rows[i], b.pic.row(y), b.kernel)
		b.holds[i] = y
	}
	return b.rows[i]
}

// gaussian is half a normalised kernel, from its middle outward to 3.5 sigma.
func gaussian(sigma float64) []float32 {
	if sigma <= 0 {
		return []float32{1}
	}
	n := int(math.Ceil(3.5 * sigma))
	half := make([]float32, n+1)
	sum := 0.0
	for i := range half {
		v := math.Exp(-float64(i*i) / (2 * sigma * sigma))
		half[i] = float32(v)
		sum += v
		if i > 0 {
			sum += v
		}
	}
	for i := range half {
		half[i] /= float32(sum)
	}
	return half
}

func blurRow(out, in []float32, kernel []float32) {
	n, reach := len(in)/3-1, len(kernel)-1
	for x := 0; x <= n; x++ {
		if x == reach && n-reach > x {
			blurMiddle(out[3*x:3*(n-reach+1)], in, kernel)
			x = n - reach
			continue
		}
		for c := range 3 {
			sum := kernel[0] * in[3*x+c]
			for k := 1; k < len(kernel); k++ {
				sum += kernel[k] * (in[3*max(x-k, 0)+c] + in[3*min(x+k, n)+c])
			}
			out[3*x+c] = sum
		}
	}
}

// blurMiddle is blurRow where the kernel does not reach over the ends. in begins
// a kernel's reach before out.
func blurMiddle(out, in []float32, kernel []float32) {
	reach := 3 * (len(kernel) - 1)
	weigh(out, in[reach:], kernel, func(k int) (a, b []float32) { return in[reach-3*k:], in[reach+3*k:] })
}

// blurColumns is the row y blurred along and across.
func (b *band) blurColumns(out []float32, y int) {
	weigh(out, b.line(y), b.kernel, func(k int) (above, below []float32) { return b.line(y - k), b.line(y + k) })
}

// weigh sums what lies about each place by the kernel's weights, from its middle
// outward; sides are what lies k to either side. Two weights at a time: fetching and
// storing the sums costs more than adding.
func weigh(out, middle, kernel []float32, sides func(k int) (a, b []float32)) {
	for i, v := range middle[:len(out)] {
		out[i] = kernel[0] * v
	}
	for k := 1; k < len(kernel); k += 2 {
		a, b := sides(k)
		if k+1 == len(kernel) {
			add(out, a, b, kernel[k])
			return
		}
		c, d := sides(k + 1)
		add2(out, a, b, c, d, kernel[k], kernel[k+1])
	}
}

func add(out, a, b []float32, w float32) {
	a, b = a[:len(out)], b[:len(out)]
	for i := range out {
		out[i] += w * (a[i] + b[i])
	}
}

func add2(out, a, b, c, d []float32, w, v float32) {
	a, b, c, d = a[:len(out)], b[:len(out)], c[:len(out)], d[:len(out)]
	for i := range out {
		sum := out[i] + w*(a[i]+b[i])
		out[i] = sum + v*(c[i]+d[i])
	}
}

// discBlur averages over a disc, radius in px, as a lens out of focus does.
// The disc's rim pixels count whole or not at all.
func discBlur(pic *Picture, radius float64) *Picture {
	out := scratchPicture(pic.Width, pic.Height)
	sums := rowSums(pic)
	inBlocks(pic.Height, func(from, to int) {
		for y := from; y < to; y++ {
			discRow(out, sums, radius, y)
		}
	})
	return out
}

// rowSums are running sums along each row: entry x holds the sum of the pixels before x.
func rowSums(pic *Picture) [][][3]float64 {
	sums := make([][][3]float64, pic.Height)
	inBlocks(pic.Height, func(from, to int) {
		for y := from; y < to; y++ {
			row := make([][3]float64, pic.Width+1)
			for x := range pic.Width {
				for c := range 3 {
					row[x+1][c] = row[x][c] + float64(pic.Pix[3*(y*pic.Width+x)+c])
				}
			}
			sums[y] = row
		}
	})
	return sums
}

func discRow(out *Picture, sums [][][3]float64, radius float64, y int) {
	n := int(radius)
	for x := range out.Width {
		var sum [3]float64
		count := 0
		for j := max(y-n, 0); j <= min(y+n, out.Height-1); j++ {
			w := int(math.Sqrt(radius*radius - float64((j-y)*(j-y))))
			a, b := max(x-w, 0), min(x+w+1, out.Width)
			row := sums[j]
			for c := range 3 {
				sum[c] += row[b][c] - row[a][c]
			}
			count += b - a
		}
		for c := range 3 {
			out.Pix[3*(y*out.Width+x)+c] = float32(sum[c] / float64(count))
		}
	}
}

// shake averages along a straight path centred on each pixel, so that nothing moves on average.
func shake(pic *Picture, length, deg float64) *Picture {
	out := scratchPicture(pic.Width, pic.Height)
	c, s := cosSin(deg)
	path := make([][2]float64, 2*int(math.Ceil(length))+1)
	for k := range path {
		t := length * (float64(k)/float64(len(path)-1) - 0.5)
		path[k] = [2]float64{t * c, t * s}
	}
	inBlocks(pic.Height, func(from, to int) {
		tracks := make([]track, len(path))
		for y := from; y < to; y++ {
			for k, step := range path {
				tracks[k] = newTrack(pic, step[0], float64(y)+step[1])
			}
			row := out.row(y)
			for x := range pic.Width {
				var sum [3]float64
				for k := range tracks {
					tracks[k].add(&sum, float64(x))
				}
				for ch := range 3 {
					row[3*x+ch] = float32(sum[ch] / float64(len(path)))
				}
			}
		}
	})
	return out
}

// track looks at a picture along a line between two rows; the border repeats.
type track struct {
	dx       float64   // added to x
	top, low []float32 // the rows above and below
	v        float64   // the lower one's share
}

// newTrack is the line at the height y.
func newTrack(pic *Picture, dx, y float64) track {
	y = min(max(y, 0), float64(pic.Height-1))
	i := min(int(y), pic.Height-2)
	return track{dx, pic.row(i), pic.row(i + 1), y - float64(i)}
}

// add adds the picture's value at x, between pixels (bilinear).
func (t *track) add(sum *[3]float64, x float64) {
	x = min(max(x+t.dx, 0), float64(len(t.top)/3-1))
	i := min(int(x), len(t.top)/3-2)
	u := x - float64(i)
	p, q := t.top[3*i:3*i+6], t.low[3*i:3*i+6]
	for c := range 3 {
		top := float64(p[c])*(1-u) + float64(p[c+3])*u
		low := float64(q[c])*(1-u) + float64(q[c+3])*u
		sum[c] += top*(1-t.v) + low*t.v
	}
}
