package cause

import (
	"math"
	"testing"

	"burngauge.dev/burngauge/pkg/locate"
	"burngauge.dev/burngauge/pkg/raster"
	"github.com/stretchr/testify/assert"
)

// blurredStep is a picture of one slanted step, blurred by a Gaussian of sigma
// px: its profile is the error function, exactly.
func blurredStep(sigma float64) *raster.Raster {
	const side = 300
	r := &raster.Raster{Width: side, Height: side, Factor: 1, Light: make([]float32, side*side)}
	sin, cos := math.Sincos(0.3)
	for y := range side {
		for x := range side {
			across := (float64(x)-150)*cos + (float64(y)-150)*sin
			r.Light[y*side+x] = float32(120 + 70*math.Erf(across/(sigma*math.Sqrt2)))
		}
	}
	return r
}

// The steepest slope of a step of height h blurred by sigma is h / (sigma √2π).
// Differences over two pixels blur by another 1/√3 px, and a window of 24 px
// holds nearly all of a step up to 4 px.
func TestSharpestIsTheBlurOfASharpStep(t *testing.T) {
	const share = 0.08
	for _, sigma := range []float64{1, 2, 3, 4} {
		s := of(blurredStep(sigma))
		assert.InEpsilon(t, math.Hypot(sigma, 1/math.Sqrt(3)), s.sharpest(), share, "sigma %g", sigma)
	}
}

// A step that no window holds shows in a halving of the picture, and one that
// no halving holds is taken for fading light.
func TestSharpestLooksAtHalvingsForWideSteps(t *testing.T) {
	const share = 0.1
	assert.InEpsilon(t, 9, of(blurredStep(9)).sharpest(), share)
	assert.Zero(t, of(blurredStep(40)).sharpest())
}

// A photo is as sharp as its sharpest part.
func TestSharpestTakesTheSharpPart(t *testing.T) {
	r := blurredStep(4)
	for y := range 60 { // a fifth of the picture is in focus
		for x := range r.Width {
			r.Light[y*r.Width+x] = float32(60 + 120*(x/30%2))
		}
	}
	assert.Less(t, of(r).sharpest(), 1.0)
}

func TestAPictureWithoutStepsIsNotCalledBlurred(t *testing.T) {
	r := &raster.Raster{Width: 300, Height: 300, Factor: 1, Light: make([]float32, 300*300)}
	for k := range r.Light {
		r.Light[k] = float32(100 + k%7) // noise
	}
	assert.Zero(t, of(r).sharpest())
}

// of is an explainer of a small picture alone.
func of(small *raster.Raster) explainer {
	return explainer{&locate.Sighting{Small: small}, DefaultSettings()}
}
