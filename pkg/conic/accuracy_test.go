package conic

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// spread is the standard deviations of fit's three results over runs of n
// points with noise sigma on an arc of a circle of radius 50, times √n/sigma.
func spread(t *testing.T, arc float64, n, runs int, fit func([]Point) [3]float64) [3]float64 {
	t.Helper()
	const radius, sigma = 50, 0.1
	rng := rand.New(rand.NewPCG(uint64(n), 11))
	var sum, square [3]float64
	points := make([]Point, n)
	for range runs {
		for i := range points {
			s, c := math.Sincos(arc * ((float64(i)+0.5)/float64(n) - 0.5))
			r := radius + sigma*rng.NormFloat64()
			points[i] = Point{100 + r*c, 200 + r*s}
		}
		for i, v := range fit(points) {
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

// TestCircleReachesTheLeastPossibleSpread: on a full circle the centre is
// uncertain by s√(2/N) and the radius by s/√N, which no unbiased fit betters to
// first order (A. Al-Sharadqah, N. Chernov, Electron. J. Stat. 3 (2009) 886);
// on arcs by the factors along the arc's axis, across and in the radius below
// (linearised, checked by simulation).
func TestCircleReachesTheLeastPossibleSpread(t *testing.T) {
	fit := func(points []Point) [3]float64 {
		c, err := FitCircle(points)
		require.NoError(t, err)
		return [3]float64{c.X - 100, c.Y - 200, c.R - 50}
	}
	const runs = 1500
	const tolerance = 4 / 54.8 // four standard errors of a standard deviation: 4/√(2 runs)
	for degrees, want := range map[float64][3]float64{
		360: {1.414, 1.414, 1.000}, 270: {1.814, 1.284, 1.139}, 180: {3.249, 1.414, 2.298}, 90: {11.366, 2.346, 10.282},
	} {
		got := spread(t, degrees*math.Pi/180, 100, runs, fit)
		for i := range want {
			assert.InEpsilon(t, want[i], got[i], tolerance, "%v degrees, %d", degrees, i)
		}
	}
}

// TestEllipsesReachTheLeastPossibleSpreadOfTheCentre: the two further
// parameters of an ellipse are square to the centre on a full circle, so its
// centre is as good as a circle's.
func TestEllipsesReachTheLeastPossibleSpreadOfTheCentre(t *testing.T) {
	const runs = 600
	const tolerance = 4 / 34.6
	fits := map[string]func([]Point) (Ellipse, error){
		"direct":    FitDirect,
		"geometric": func(p []Point) (Ellipse, error) { return FitGeometric(p, Ellipse{100, 200, 50, 50, 0}) },
	}
	for name, fit := range fits {
		for _, n := range []int{36, 360} {
			got := spread(t, 2*math.Pi, n, runs, func(p []Point) [3]float64 {
				e, err := fit(p)
				require.NoError(t, err)
				return [3]float64{e.X - 100, e.Y - 200, math.Sqrt(e.A*e.B) - 50}
			})
			assert.InEpsilon(t, math.Sqrt2, got[0], tolerance, "%s %d", name, n)
			assert.InEpsilon(t, math.Sqrt2, got[1], tolerance, "%s %d", name, n)
			assert.InEpsilon(t, 1, got[2], tolerance, "%s %d", name, n)
		}
	}
}

// TestConcentricCentreFromNoisyRings: the projective centre from two fitted
// rings has no share of the eccentricity (0.8 mm or 11 px for the larger ring).
func TestConcentricCentreFromNoisyRings(t *testing.T) {
	h, _, _ := offAxis()
	rng := rand.New(rand.NewPCG(12, 13))
	const runs, n, sigma = 100, 400, 0.1
	var x, y float64
	for range runs {
		var conics [2]Conic
		for i, r := range []float64{20, 10} {
			e, err := FitDirect(noisyRing(rng, h, r, n, sigma))
			require.NoError(t, err)
			conics[i] = e.Conic()
		}
		p, err := Concentric(conics[0], conics[1])
		require.NoError(t, err)
		assert.InDelta(t, 2, p.Ratio, 0.01)
		x, y = x+p.Centre.X/runs, y+p.Centre.Y/runs
	}
	// Mean over the runs, against the centre in 2f.
	const bias = 0.01
	assert.InDelta(t, 2288.7272727273, x, bias)
	assert.InDelta(t, 1034.7272727273, y, bias)
}

func noisyRing(rng *rand.Rand, h Homography, r float64, n int, sigma float64) []Point {
	points := make([]Point, n)
	for i := range points {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		p := h.Apply(Point{r * c, r * s})
		points[i] = Point{p.X + sigma*rng.NormFloat64(), p.Y + sigma*rng.NormFloat64()}
	}
	return points
}
