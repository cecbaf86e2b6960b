package ellipse

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/photo"
)

// A disc's edge is one chain that goes round it once, with the light on the
// side that the walk always has it on, and none of its points is taken twice.
func TestADiscsEdgeIsOneChain(t *testing.T) {
	const (
		tolPX   = 0.15 // the drawn disc's 64 samples a pixel, and the parabola
		radius  = 40.3
		longest = 2.3 // px from one point to the next: a diagonal step, and the edge's place in either pixel
	)
	disc := conic.Ellipse{X: 60.4, Y: 55.7, A: radius, B: radius}
	e := findEdges(discs(120, 112, disc), usual())
	chains := e.chains()
	require.Len(t, chains, 1)
	chain := chains[0]
	turned := 0.0
	for i, p := range chain {
		assert.InDelta(t, radius, math.Hypot(p.X-disc.X, p.Y-disc.Y), tolPX)
		if i == 0 {
			continue
		}
		q := chain[i-1]
		step := math.Hypot(p.X-q.X, p.Y-q.Y)
		assert.Less(t, step, longest)
		turned += math.Remainder(math.Atan2(p.Y-disc.Y, p.X-disc.X)-math.Atan2(q.Y-disc.Y, q.X-disc.X), 2*math.Pi)
		if side := (p.X-q.X)*p.gy - (p.Y-q.Y)*p.gx; step > 0.5 {
			assert.Negative(t, side, "the gradient lies on one hand of the walk")
		}
	}
	assert.InDelta(t, 2*math.Pi, math.Abs(turned), 0.1, "once round")
}

// The two flanks of a line, as near as a printed line's, are two chains: their
// gradients are opposite.
func TestTheFlanksOfALineAreTwoChains(t *testing.T) {
	const left, width = 30, 4
	im := photo.Image{Width: 64, Height: 80, Pix: make([]byte, 3*64*80)}
	for k := range im.Pix {
		im.Pix[k] = 180
		if x := k / 3 % 64; x >= left && x < left+width {
			im.Pix[k] = 60
		}
	}
	chains := findEdges(im, usual()).chains()
	require.Len(t, chains, 2)
	for _, chain := range chains {
		assert.Greater(t, len(chain), 70)
		for _, p := range chain {
			assert.InDelta(t, math.Copysign(1, chain[0].gx), p.gx, 1e-6)
		}
	}
	assert.NotEqual(t, chains[0][0].gx, chains[1][0].gx)
}

// In an even picture a chain starts where the gradient is above 1.6 code values
// per px and goes on above 0.8. A step's gradient is 10/32 of its height (see
// TestTheGradientIsThatOfTheSmoothedStep): 6 code values start a chain, 5 do
// not, 3 carry it on, 2 do not.
func TestAChainGoesOnWhereItWouldNotStart(t *testing.T) {
	const width, height, band = 64, 100, 20
	stepped := func(heights ...int) photo.Image { // each for so many rows
		im := photo.Image{Width: width, Height: height, Pix: make([]byte, 3*width*height)}
		for k := range im.Pix {
			im.Pix[k] = 100
			if x, y := k/3%width, k/3/width; x >= width/2 {
				im.Pix[k] = byte(100 + heights[min(y/band, len(heights)-1)])
			}
		}
		return im
	}
	assert.Empty(t, findEdges(stepped(5), usual()).chains())
	assert.Len(t, findEdges(stepped(6), usual()).chains(), 1)
	chains := findEdges(stepped(2, 3, 6, 3, 2), usual()).chains()
	require.Len(t, chains, 1)
	from, to := math.Inf(1), math.Inf(-1)
	for _, p := range chains[0] {
		from, to = min(from, p.Y), max(to, p.Y)
	}
	const soft = 2 // rows that the smoothing mixes
	assert.InDelta(t, band, from, soft)
	assert.InDelta(t, 4*band-1, to, soft)
}

// wedge is light between two straight sides that meet at an angle in the
// picture's middle, 8 x 8 samples a pixel.
func wedge(openDeg, turnDeg float64) photo.Image {
	const size, fine = 120, 8
	im := photo.Image{Width: size, Height: size, Pix: make([]byte, 3*size*size)}
	s, c := math.Sincos(turnDeg * math.Pi / 180)
	for k := range size * size {
		in := 0
		for i := range fine * fine {
			x := float64(k%size) + (float64(i%fine)+0.5)/fine - 30.5
			y := float64(k/size) + (float64(i/fine)+0.5)/fine - 60.5
			if math.Abs(math.Atan2(y*c-x*s, x*c+y*s)) < openDeg/2*math.Pi/180 {
				in++
			}
		}
		for channel := range 3 {
			im.Pix[3*k+channel] = byte(60 + 130*in/(fine*fine))
		}
	}
	return im
}

// Round a sharp point the gradient turns by more than leastAlike a pixel: its
// sides are chains of their own, whose gradient stays within a right angle. At a
// blunt corner the smoothed edge turns gently, and the chain goes on from one
// side to the other.
func TestAChainTurnsGentlyOnly(t *testing.T) {
	widest := func(chain []edgel) float64 { // angle between its first gradient and another, degrees
		least := 1.0
		for _, p := range chain {
			least = min(least, p.gx*chain[0].gx+p.gy*chain[0].gy)
		}
		return math.Acos(max(-1, least)) * 180 / math.Pi
	}
	for _, turn := range []float64{0, 20, 110, 200} {
		for _, open := range []float64{30, 60} {
			chains := findEdges(wedge(open, turn), usual()).chains()
			assert.Len(t, chains, 2, "%v degrees open", open)
			for _, chain := range chains {
				assert.Less(t, widest(chain), 90.0, "%v degrees open: the sides' gradients are %v apart", open, 180-open)
			}
		}
		for _, open := range []float64{120, 150} {
			chains := findEdges(wedge(open, turn), usual()).chains()
			require.Len(t, chains, 1, "%v degrees open", open)
			assert.InDelta(t, 180-open, widest(chains[0]), 3, "%v degrees open", open)
		}
	}
}
