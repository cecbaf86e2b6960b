package cells

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// annulus is a dark ring about a pale middle, with a gap towards +x of the given
// half height, and the set of what lies within its outer edge. Cells are 0.04
// wide.
func annulus(gap float64) (values []float64, within Set) {
	const n = 101
	values, within = make([]float64, n*n), New(n)
	for k := range values {
		x, y := 0.04*float64(k%n-n/2), 0.04*float64(k/n-n/2)
		r := math.Hypot(x, y)
		within.In[k] = r < 1.5
		values[k] = 0.05
		if r > 0.7 && r < 1.5 && (x < 0 || math.Abs(y) >= gap) {
			values[k] = 0.9
		}
	}
	return values, within
}

func TestPaleMiddleOfAClosedRingIsRaised(t *testing.T) {
	values, within := annulus(0)
	FillBasins(values, within)
	for k, in := range within.In {
		if in {
			require.InDelta(t, 0.9, values[k], 1e-12)
		} else {
			require.InDelta(t, 0.05, values[k], 1e-12)
		}
	}
}

// Through the gap the middle lies open.
func TestOpenRingIsNotFilled(t *testing.T) {
	values, within := annulus(0.3)
	before := append([]float64(nil), values...)
	FillBasins(values, within)
	assert.Equal(t, before, values)
}
