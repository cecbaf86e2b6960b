package conic

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestDirectFitReachesTheLeastPossibleSpreadOfTheCentre: on a full circle of N
// points with the noise s the centre is uncertain by s√(2/N) and the radius by
// s/√N, below which no unbiased fit comes to first order (A. Al-Sharadqah, N.
// Chernov, Electron. J. Stat. 3 (2009) 886). The two further parameters of an
// ellipse are square to these, so an ellipse's centre is as good as a circle's.
func TestDirectFitReachesTheLeastPossibleSpreadOfTheCentre(t *testing.T) {
	const runs = 600
	const tolerance = 4 / 34.6 // four standard errors of a standard deviation: 4/√(2 runs)
	for _, n := range []int{36, 360} {
		got := spread(t, n, runs)
		assert.InEpsilon(t, math.Sqrt2, got[0], tolerance, "%d", n)
		assert.InEpsilon(t, math.Sqrt2, got[1], tolerance, "%d", n)
		assert.InEpsilon(t, 1, got[2], tolerance, "%d", n)
	}
}

// spread is the standard deviations of the fitted centre and of the mean radius
// over runs of n points with noise sigma on a circle of radius 50, times
// √n/sigma.
func spread(t *testing.T, n, runs int) [3]float64 {
	t.Helper()
	const radius, sigma = 50, 0.1
	rng := rand.New(rand.NewPCG(uint64(n), 11))
	var sum, square [3]float64
	points := make([]Point, n)
	for range runs {
		for i := range points {
			s, c := math.Sincos(2 * math.Pi * ((float64(i) + 0.5) / float64(n)))
			r := radius + sigma*rng.NormFloat64()
			points[i] = Point{100 + r*c, 200 + r*s}
		}
		e, err := FitDirect(points)
		require.NoError(t, err)
		for i, v := range [3]float64{e.X - 100, e.Y - 200, math.Sqrt(e.A*e.B) - radius} {
			sum[i] += v
			square[i] += v * v
		}
	}
	for i := range sum {
		m := sum[i] / float64(runs)
		sum[i] = math.Sqrt(float64(n)*(square[i]/float64(runs)-m*m)) / sigma
	}
	return sum
}

// TestCentreFromANoisyRing: the centre of the true one of the two poses of a
// fitted ring has no share of the eccentricity (0.8 mm or 11 px here).
func TestCentreFromANoisyRing(t *testing.T) {
	w := offAxis()
	rng := rand.New(rand.NewPCG(12, 13))
	const runs, n, sigma = 100, 400, 0.1
	var x, y float64
	for range runs {
		points := w.circle(20, n)
		for i, p := range points {
			points[i] = Point{p.X + sigma*rng.NormFloat64(), p.Y + sigma*rng.NormFloat64()}
		}
		e, err := FitDirect(points)
		require.NoError(t, err)
		truth, _ := poses(t, e, w, 20)
		x, y = x+w.seen(truth).X/runs, y+w.seen(truth).Y/runs
	}
	// Mean over the runs, against the centre in TestOffAxisView.
	const bias = 0.01
	assert.InDelta(t, 2288.7272727273, x, bias)
	assert.InDelta(t, 1034.7272727273, y, bias)
}
