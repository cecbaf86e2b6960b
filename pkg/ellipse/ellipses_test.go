package ellipse

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/photo"
)

// discs draws dark ellipses on light grey, 8 x 8 samples a pixel.
func discs(width, height int, all ...conic.Ellipse) photo.Image {
	const fine = 8
	im := photo.Image{Width: width, Height: height, Pix: make([]byte, 3*width*height)}
	for k := range width * height {
		in := 0
		for s := range fine * fine {
			x := float64(k%width) + (float64(s%fine)+0.5)/fine - 0.5
			y := float64(k/width) + (float64(s/fine)+0.5)/fine - 0.5
			for _, el := range all {
				sin, cos := math.Sincos(el.Theta)
				u, v := (x-el.X)*cos+(y-el.Y)*sin, (y-el.Y)*cos-(x-el.X)*sin
				if math.Hypot(u/el.A, v/el.B) < 1 {
					in++
					break
				}
			}
		}
		grey := byte(200 - 140*in/(fine*fine))
		im.Pix[3*k], im.Pix[3*k+1], im.Pix[3*k+2] = grey, grey, grey
	}
	return im
}

func TestEllipsesFindsTheOneThatIsThere(t *testing.T) {
	const tolPX, tolRad = 0.3, 0.02
	for _, want := range []conic.Ellipse{
		{X: 150.3, Y: 121.8, A: 80, B: 61.5, Theta: 0.4},
		{X: 140, Y: 110.5, A: 90.25, B: 40, Theta: -0.9},
		{X: 161.5, Y: 118, A: 30.5, B: 24, Theta: 1.2},
	} {
		found := inOne(findEdges(discs(300, 240, want), usual()))
		require.NotEmpty(t, found)
		got := found[0]
		assert.InDelta(t, want.X, got.X, tolPX)
		assert.InDelta(t, want.Y, got.Y, tolPX)
		assert.InDelta(t, want.A, got.A, tolPX)
		assert.InDelta(t, want.B, got.B, tolPX)
		assert.InDelta(t, 0, math.Sin(want.Theta-got.Theta), tolRad)
		assert.Greater(t, got.Arc, 0.9)
	}
}

func TestEllipsesKeepsTwoApart(t *testing.T) {
	a := conic.Ellipse{X: 80, Y: 100, A: 50, B: 45}
	b := conic.Ellipse{X: 220, Y: 120, A: 40, B: 38}
	found := inOne(findEdges(discs(300, 240, a, b), usual()))
	for _, want := range []conic.Ellipse{a, b} {
		assert.True(t, usual().known(found, Candidate{Ellipse: want}), "%v", want)
	}
}

func TestNoEllipseWithoutACurve(t *testing.T) {
	flat := photo.Image{Width: 200, Height: 150, Pix: make([]byte, 3*200*150)}
	assert.Empty(t, inOne(findEdges(flat, usual())))
	for k := range flat.Pix { // one straight edge
		if k/3%200 > 90 {
			flat.Pix[k] = 180
		}
	}
	assert.Empty(t, inOne(findEdges(flat, usual())))
}

// inOne are the ellipses of one scale, the best supported first.
func inOne(e *edgeMap) []Candidate {
	return usual().bestSupported(everyEllipse(e, middleInside, counts{}))
}

// usual are the settings of all programs.
func usual() *Settings {
	set := DefaultSettings()
	return &set
}
