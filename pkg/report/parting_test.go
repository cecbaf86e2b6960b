package report

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBeamFromPointer(t *testing.T) {
	burn, pointer := mark("p.jpg", "burn", -0.5, 0.75, 0.03), mark("p.jpg", "pointer", 0.25, 1, 0.04)
	p := Part(burn, pointer)
	require.NotNil(t, p)
	assert.Equal(t, -0.75, p.RightMM, "the beam lies to the left of the pointer")
	assert.Equal(t, -0.25, p.UpMM, "and below it")
	// The same in both axes: Rayleigh's distribution, √(-2 ln 0.05) = 2.447747,
	// times √(0.03² + 0.04²) = 0.05.
	assert.InDelta(t, 2.447747*0.05, p.RadiusMM, 1e-6)
	back := Part(pointer, burn)
	assert.Equal(t, Parting{-p.RightMM, -p.UpMM, p.RadiusMM}, *back)
}

// Draws with an error common to both marks, as the fit of the rings in one
// photo is: the radius holds at least the stated share, and exactly that when
// nothing is common.
func TestPartingHoldsTheStatedShareOfDraws(t *testing.T) {
	random := rand.New(rand.NewPCG(31, 32))
	const draws = 20000
	for _, common := range []float64{0, 0.02} {
		const own = 0.02
		u := math.Hypot(common, own)
		var held float64
		radius := Part(mark("p", "burn", 0, 0, u), mark("p", "pointer", 0, 0, u)).RadiusMM
		for range draws {
			x := own * (random.NormFloat64() - random.NormFloat64()) // the common part cancels
			y := own * (random.NormFloat64() - random.NormFloat64())
			if math.Hypot(x, y) <= radius {
				held++
			}
		}
		fourErrors := 4 * math.Sqrt(0.95*0.05/draws)
		if common == 0 {
			assert.InDelta(t, 0.95, held/draws, fourErrors)
		} else {
			assert.Greater(t, held/draws, 0.95)
		}
	}
}

func TestNoPartingWithoutBoth(t *testing.T) {
	whole, gone := mark("p", "burn", 0, 0, 0.01), refused()
	bare := mark("p", "pointer", 0, 0, 0.01)
	bare.Uncertainty = nil
	for _, other := range []*Measurement{nil, &gone, bare} {
		assert.Nil(t, Part(whole, other))
		assert.Nil(t, Part(other, whole))
	}
}
