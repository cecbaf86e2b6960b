package cells

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Light without the mark is smooth: over a hole it must go on as it was.
func TestFillBridgesAPlane(t *testing.T) {
	const n = 64
	plane := func(k int) float64 { return 0.5 + 0.002*float64(k%n) - 0.001*float64(k/n) }
	values, hole := make([]float64, n*n), discSet(n, 9)
	for k := range values {
		if values[k] = plane(k); hole.In[k] {
			values[k] = 0.03
		}
	}
	values[5] = math.NaN()
	const tolLight = 0.01 // of a range of 0.13 across the hole's picture
	for k, v := range Fill(values, hole) {
		require.InDelta(t, plane(k), v, tolLight)
	}
}

func TestFillOfAConstantIsThatConstant(t *testing.T) {
	for _, n := range []int{5, 16, 33} {
		values := make([]float64, n*n)
		for k := range values {
			values[k] = 0.4
		}
		hole := discSet(n, float64(n)/4)
		for k, in := range hole.In {
			if in {
				values[k] = math.NaN()
			}
		}
		for _, v := range Fill(values, hole) {
			require.InDelta(t, 0.4, v, 1e-12)
		}
	}
}

// A pull-push on known cells of full weight leaves them as they are.
func TestPullPushKeepsWhatIsKnown(t *testing.T) {
	const w, h = 13, 9
	v, weight := make([]float64, w*h), make([]float64, w*h)
	for k := range v {
		if k%3 != 1 {
			v[k], weight[k] = float64(k), 1
		}
	}
	pullPush(v, weight, w, h)
	for k := range v {
		if k%3 != 1 {
			assert.Equal(t, float64(k), v[k])
		}
	}
}

// By hand, a row of four cells: two coarse cells lie at 0.5 and 2.5 of the fine ones, so
// that fine cell 1 lies a quarter of the way from the first to the second, cell 2 three
// quarters. Known 2 and 8 at the ends: 2·3/4 + 8/4 = 3.5, and 2/4 + 8·3/4 = 6.5. With 4 of
// weight 1/4 beside the 2 the coarse cell is (2 + 4/4)/(1 + 1/4) = 2.4, and cell 1 keeps a
// quarter of its own: 4/4 + 3/4 (2.4·3/4 + 8/4) = 3.85; cell 2 is 2.4/4 + 8·3/4 = 6.6.
func TestPullPushBridgesByHandWorkedNumbers(t *testing.T) {
	const tol = 1e-12
	v := []float64{2, 0, 0, 8}
	pullPush(v, []float64{1, 0, 0, 1}, 4, 1)
	assert.InDeltaSlice(t, []float64{2, 3.5, 6.5, 8}, v, tol)
	v = []float64{2, 4, 0, 8}
	pullPush(v, []float64{1, 0.25, 0, 1}, 4, 1)
	assert.InDeltaSlice(t, []float64{2, 3.85, 6.6, 8}, v, tol)
}

func TestBoxMeanLeavesOutWhatIsUnknown(t *testing.T) {
	nan := math.NaN()
	got := BoxMean([]float64{1, nan, nan, 3, nan, nan, nan, nan, nan}, 3, 1)
	assert.Equal(t, 2.0, got[0])
	assert.Equal(t, 2.0, got[4])
	assert.True(t, math.IsNaN(got[8]))
}
