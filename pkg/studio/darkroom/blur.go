package darkroom

import (
	"math"

	"gonum.org/v1/gonum/blas/blas32"

	"burngauge.dev/burngauge/pkg/studio/raster"
)

// gaussianReach is where a kernel is cut, in sigmas: exp(-3.5²/2) = 0.2 % of its middle.
const gaussianReach = 3.5

// gaussian is half a kernel, from its middle outward: w(i) = exp(-i²/(2 sigma²)), divided by
// the sum of the whole, w(0) + 2 Σ w(i), so that light is kept. 0 blurs nothing.
func gaussian(sigma float64) []float32 {
	if sigma <= 0 {
		return []float32{1}
	}
	n := int(math.Ceil(gaussianReach * sigma))
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

// blur is a Gaussian blur of a picture's rows, first along and then across them: a Gaussian
// of x² + y² is the product of one of x and one of y, so that two passes of 2n + 1 weights
// do what (2n + 1)² would. The border repeats the last pixel.
type blur struct {
	kernel []float32
	along  *raster.Window[raster.Line]
	padded []float32   // a colour of a row, with what lies beyond its ends
	about  [][]float32 // what is weighed
	pair   []float32   // scratch of weigh
}

// newBlur blurs rows of a picture, sigma in px. The pass along a row is kept for as many
// rows as the pass across them looks at.
func newBlur(width, height int, sigma float64, of raster.Rows) *blur {
	b := &blur{kernel: gaussian(sigma), pair: make([]float32, width)}
	reach := len(b.kernel) - 1
	b.padded, b.about = make([]float32, width+2*reach), make([][]float32, 2*reach+1)
	b.along = raster.NewWindow(height, reach, func() raster.Line { return raster.NewLine(width) }, func(out raster.Line, y int) {
		for c, colour := range of(y) {
			b.blurAlong(out[c], colour)
		}
	})
	return b
}

// blurAlong blurs one colour of a row along itself.
func (b *blur) blurAlong(out, in []float32) {
	pad(b.padded, in)
	for i := range b.about {
		b.about[i] = b.padded[i:]
	}
	b.weigh(out)
}

// pad copies a row with its ends repeated on both sides, out being the longer by twice that.
func pad(out, in []float32) {
	reach, last := (len(out)-len(in))/2, len(in)-1
	for i := range reach {
		out[i], out[len(out)-1-i] = in[0], in[last]
	}
	copy(out[reach:], in)
}

// row is one colour of the blurred row y.
func (b *blur) row(out []float32, y, colour int) {
	for i, l := range b.along.About(y) {
		b.about[i] = l[colour]
	}
	b.weigh(out)
}

// weigh sums what lies about each place by the kernel's weights, from its middle outward:
//
//	out(x) = w(0) about(x) + Σ w(k) (about(x-k) + about(x+k)),   k = 1 .. reach.
//
// The two places that weigh the same are added before they are weighed. The order is fixed:
// floating-point sums in another order would give other last bits, and other bytes.
func (b *blur) weigh(out []float32) {
	reach := len(b.kernel) - 1
	clear(out)
	add(out, b.kernel[0], b.about[reach])
	for k := 1; k <= reach; k++ {
		copy(b.pair, b.about[reach-k])
		add(b.pair, 1, b.about[reach+k])
		add(out, b.kernel[k], b.pair)
	}
}

// add adds x times a factor, rounding the product as well as the sum.
func add(sum []float32, factor float32, x []float32) {
	n := len(sum)
	blas32.Axpy(factor, blas32.Vector{N: n, Inc: 1, Data: x[:n]}, blas32.Vector{N: n, Inc: 1, Data: sum})
}
