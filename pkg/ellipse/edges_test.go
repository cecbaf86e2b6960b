package ellipse

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/photo"
)

// halfPlane is a step of light along a straight line: from dark where
// x cos + y sin lies below off to light beyond, px and code values.
type halfPlane struct {
	degrees, off float64
	dark, light  [3]float64 // blue, green, red
}

// distance of a place from the line, px, positive on the light side.
func (h halfPlane) distance(x, y float64) float64 {
	s, c := math.Sincos(h.degrees * math.Pi / 180)
	return x*c + y*s - h.off
}

// covered is the part of a pixel, a square of side 1, that lies beyond the line.
// A place in it is off the line by its middle's distance and by two independent
// uniform shares of widths |cos| and |sin|: their sum's distribution is the
// second difference of a parabola, divided by both widths.
func (h halfPlane) covered(x, y float64) float64 {
	s, c := math.Sincos(h.degrees * math.Pi / 180)
	a, b, d := max(math.Abs(c), math.Abs(s)), min(math.Abs(c), math.Abs(s)), h.distance(x, y)
	if b < 1e-9 {
		return max(0, min(1, d/a+0.5))
	}
	half := func(t float64) float64 { return max(0, t) * max(0, t) / 2 }
	return (half(d+(a+b)/2) - half(d+(a-b)/2) - half(d-(a-b)/2) + half(d-(a+b)/2)) / (a * b)
}

// picture samples the step's area exactly and rounds to code values.
func (h halfPlane) picture(width, height int) photo.Image {
	im := photo.Image{Width: width, Height: height, Pix: make([]byte, 3*width*height)}
	for k := range width * height {
		share := h.covered(float64(k%width), float64(k/width))
		for c := range 3 {
			im.Pix[3*k+c] = byte(math.Round(h.dark[c] + share*(h.light[c]-h.dark[c])))
		}
	}
	return im
}

// grey is the same in all channels.
func grey(v float64) [3]float64 { return [3]float64{v, v, v} }

// The area by the closed form against one of a fine grid of points.
func TestTheStepsAreaIsThatOfManyPoints(t *testing.T) {
	const fine = 200
	for _, h := range []halfPlane{{degrees: 0, off: 0.3}, {degrees: 45, off: -0.2}, {degrees: 107, off: 0.55}, {degrees: 200, off: 0}} {
		in := 0
		for s := range fine * fine {
			if h.distance((float64(s%fine)+0.5)/fine-0.5, (float64(s/fine)+0.5)/fine-0.5) > 0 {
				in++
			}
		}
		assert.InDelta(t, float64(in)/fine/fine, h.covered(0, 0), 1.0/fine, "%v", h)
	}
}

// edgePixels are the places at which an edge was found.
func (e *edgeMap) edgePixels() (out []int) {
	for k, m := range e.magnitude {
		if m > 0 {
			out = append(out, k)
		}
	}
	return out
}

// Every edge point lies on the line, with the gradient across it, and the line
// has no gap: one point in each row or column at least. The parabola through
// three samples, two of them between pixels, is not the smoothed step's bell: it
// places an edge up to tolPX off (seen: 0.12, at 45 degrees), to either side alike. A step of
// 10 code values, rounded to them, is off by more.
func TestAStepIsFoundWhereItIs(t *testing.T) {
	const (
		size   = 64
		border = 4 // no edges are looked for there
	)
	for _, step := range []struct {
		dark, light           [3]float64
		tolPX, tolMean, tolTo float64 // of each point, of their mean, of the direction (radians)
	}{
		{grey(60), grey(200), 0.13, 0.03, 0.02},
		{[3]float64{80, 80, 40}, [3]float64{80, 80, 160}, 0.13, 0.03, 0.02}, // in hue alone
		{grey(90), grey(100), 0.2, 0.06, 0.1},
	} {
		for degrees := 0.0; degrees < 360; degrees += 11.25 {
			for _, part := range []float64{0, 0.25, 0.4} {
				h := halfPlane{degrees: degrees, dark: step.dark, light: step.light}
				s, c := math.Sincos(degrees * math.Pi / 180)
				h.off = 31.5*c + 31.5*s + part
				e := findEdges(h.picture(size, size), usual())
				across := map[int]bool{} // columns or rows in which the line is found
				worst, sum, turn := 0.0, 0.0, 0.0
				pixels := e.edgePixels()
				for _, k := range pixels {
					p := e.edgel(k)
					d := h.distance(p.X, p.Y)
					worst, sum = max(worst, math.Abs(d)), sum+d
					turn = max(turn, math.Abs(math.Atan2(p.gx*s-p.gy*c, p.gx*c+p.gy*s)))
					if math.Abs(s) > math.Abs(c) {
						across[k%size] = true
					} else {
						across[k/size] = true
					}
				}
				assert.LessOrEqual(t, worst, step.tolPX, "%v", h)
				assert.InDelta(t, 0, sum/float64(len(pixels)), step.tolMean, "%v", h)
				assert.LessOrEqual(t, turn, step.tolTo, "%v", h)
				assert.GreaterOrEqual(t, len(across), size-2*border, "%v", h)
			}
		}
	}
}

// noisy is a picture in which every pixel differs.
func noisy(width, height int) photo.Image {
	rng := rand.New(rand.NewPCG(21, 22))
	im := photo.Image{Width: width, Height: height, Pix: make([]byte, 3*width*height)}
	for k := range im.Pix {
		im.Pix[k] = byte(rng.IntN(256))
	}
	return im
}

// The rows' work is shared among the cores. Each part works out the rows about
// its ends for itself, and must come to what one look at all rows gives.
func TestEdgesDoNotDependOnHowRowsAreShared(t *testing.T) {
	im := noisy(57, 83)
	find := func(ends ...int) (*edgeMap, []float32) {
		n := im.Width * im.Height
		e := &edgeMap{set: usual(), w: im.Width, h: im.Height,
			magnitude: make([]float32, n), gx: make([]float32, n), gy: make([]float32, n), shift: make([]float32, n)}
		var sample []float32
		for i := range ends[1:] {
			sample = append(sample, e.findRows(im, ends[i], ends[i+1])...)
		}
		return e, sample
	}
	whole, sample := find(0, im.Height)
	require.NotEmpty(t, whole.edgePixels())
	assert.Len(t, sample, (len(whole.magnitude)+sampleStep-1)/sampleStep)
	for _, ends := range [][]int{{0, 41, 83}, {0, 1, 2, 3, 82, 83}, {0, 7, 8, 16, 17, 50, 83}} {
		e, also := find(ends...)
		assert.Equal(t, whole.magnitude, e.magnitude, "%v", ends)
		assert.Equal(t, whole.gx, e.gx, "%v", ends)
		assert.Equal(t, whole.gy, e.gy, "%v", ends)
		assert.Equal(t, whole.shift, e.shift, "%v", ends)
		assert.Equal(t, sample, also, "%v", ends)
	}
	shared := findEdges(im, usual())
	whole.thresholds(slices.Clone(sample))
	assert.Equal(t, whole, shared)
}

// A step of height h has, smoothed by 1 4 6 4 1 over 16, values of 1/16, 5/16,
// 11/16 and 15/16 of h about it, and by the central difference a gradient of
// (11-1)/32 h at its two nearest pixels.
func TestTheGradientIsThatOfTheSmoothedStep(t *testing.T) {
	h := halfPlane{off: 31.5, dark: grey(100), light: grey(132)}
	e := findEdges(h.picture(64, 64), usual())
	pixels := e.edgePixels()
	require.NotEmpty(t, pixels)
	for _, k := range pixels {
		assert.InDelta(t, 32*10.0/32, e.magnitude[k], 1e-4)
	}
}
