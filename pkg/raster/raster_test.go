package raster

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/photo"
)

// rampAt is a plane of light over the photo.
func rampAt(x, y float64) float64 { return 0.1 + 0.004*x + 0.0025*y }

// rampRaster has in every pixel the ramp at the middle of the block it covers.
func rampRaster() *Raster {
	r := &Raster{Width: 20, Height: 14, X0: 7, Y0: 11, Factor: 3}
	n := r.Width * r.Height
	r.Light = make([]float32, n)
	for c := range r.Colour {
		r.Colour[c] = make([]float32, n)
	}
	for j := range r.Height {
		for i := range r.Width {
			v := rampAt(7+(float64(i)+0.5)*3-0.5, 11+(float64(j)+0.5)*3-0.5)
			r.Light[j*r.Width+i] = float32(v)
			for c := range r.Colour {
				r.Colour[c][j*r.Width+i] = float32(v) * float32(c+1) / 4
			}
		}
	}
	return r
}

// tolFloat is what the raster's float32 may round off.
const tolFloat = 1e-6

func TestSampleIsExactOnALinearRamp(t *testing.T) {
	r, rng := rampRaster(), rand.New(rand.NewPCG(3, 4))
	for range 500 {
		p := conic.Point{X: 8 + 57*rng.Float64(), Y: 12 + 39*rng.Float64()}
		assert.InDelta(t, rampAt(p.X, p.Y), r.Sample(r.Light, p), tolFloat)
		all := r.SampleAll(p)
		for c, share := range [4]float64{1, 0.25, 0.5, 0.75} {
			assert.InDelta(t, share*rampAt(p.X, p.Y), all[c], tolFloat)
		}
	}
}

func TestSampleOutsideIsNaN(t *testing.T) {
	r := rampRaster()
	for _, p := range []conic.Point{{X: 7.9, Y: 20}, {X: 65.1, Y: 20}, {X: 20, Y: 11.9}, {X: 20, Y: 51.1}, {X: math.NaN(), Y: 20}, {X: math.Inf(1), Y: 0}} {
		assert.True(t, math.IsNaN(r.Sample(r.Light, p)), "%v", p)
		assert.True(t, math.IsNaN(r.SampleAll(p)[0]), "%v", p)
		assert.False(t, r.Contains(p), "%v", p)
	}
	for _, p := range []conic.Point{{X: 8, Y: 12}, {X: 65, Y: 51}} { // the middles of the corner blocks
		assert.False(t, math.IsNaN(r.Sample(r.Light, p)), "%v", p)
		assert.True(t, r.Contains(p), "%v", p)
	}
}

func TestRasterTooSmallToInterpolateIsNaN(t *testing.T) {
	for _, im := range []photo.Image{{}, {Width: 1, Height: 1, Pix: []byte{9, 9, 9}}} {
		r := New(im, -3, -3, 5, 5, 1)
		assert.True(t, math.IsNaN(r.Sample(r.Light, conic.Point{})))
		assert.True(t, math.IsNaN(r.SampleAll(conic.Point{})[3]))
	}
}

// The luminance of a single colour is its weight in ITU-R BT.709 (0.2126 red,
// 0.7152 green, 0.0722 blue), its linear light 0.2158605001 at the code value
// 128 (IEC 61966-2-1, recomputed with numpy).
func TestLightIsLinearAndWeighsColours(t *testing.T) {
	for c, weight := range []float64{0.0722, 0.7152, 0.2126} {
		im := photo.Image{Width: 4, Height: 4, Pix: make([]byte, 48)}
		for k := c; k < 48; k += 3 {
			im.Pix[k] = 128
		}
		r := New(im, 0, 0, 4, 4, 2)
		require.Equal(t, 2, r.Width)
		assert.InDelta(t, 0.2158605001, r.Colour[c][3], tolFloat)
		assert.InDelta(t, weight*0.2158605001, r.Light[3], tolFloat)
	}
}

// A mean of a block of a ramp is the ramp at the block's middle, and what does
// not fill a block is left out. Both ways of reducing are looked at.
func TestReducedMovesPixelCentres(t *testing.T) {
	for _, width := range []int{60, 61} {
		im := photo.Image{Width: width, Height: 9, Pix: make([]byte, 3*width*9)}
		for k := range im.Pix {
			im.Pix[k] = byte(3 * (k / 3 % width))
		}
		small := Reduced(im, 3)
		require.Equal(t, 20, small.Width)
		require.Equal(t, 3, small.Height)
		for k, v := range small.Pix {
			assert.Equal(t, 3*((float64(k/3%20)+0.5)*3-0.5), float64(v))
		}
	}
}
