package conic

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The eight points of W. Gander, G. H. Golub, R. Strebel, "Least-squares
// fitting of circles and ellipses", BIT 34 (1994) 558, as in L. Hunyadi's
// quadFit, example_ellipsefit1.m; the first six are the paper's circle example
// (help text of R. Brown's fitcircle.m).
var gander = []Point{{1, 7}, {2, 6}, {5, 8}, {7, 7}, {9, 5}, {3, 7}, {6, 2}, {8, 4}}

// OpenCV's test_fitellipse.cpp, Issue 6544: a one-sided arc.
var issue6544 = []Point{{924.784, 764.160}, {928.388, 615.903}, {847.4, 888.014}, {929.406, 741.675}, {904.564, 825.605},
	{926.742, 760.746}, {863.479, 873.406}, {910.987, 808.863}, {929.145, 744.976}, {917.474, 791.823}}

const (
	printed  = 5e-10 // digits given by the source of the 1994 example, recomputed
	rounding = 1e-9  // exact data through float64 sums
)

func TestDirectEllipseOfGanderGolubStrebel(t *testing.T) {
	// The same constrained eigenproblem in raw coordinates, solved with numpy,
	// and its centre in exact fractions: whitening must not change it.
	e, err := FitDirect(gander)
	require.NoError(t, err)
	assert.InDelta(t, 5.0638777194599, e.X, printed)
	assert.InDelta(t, 5.0697527041888, e.Y, printed)
	assert.InDelta(t, 3.775663715, e.A, printed)
	assert.InDelta(t, 2.642333999, e.B, printed)
	assert.InDelta(t, -0.386120038, e.Theta, printed)
	assert.InDelta(t, 1.395060375, misfit(gander, e), printed)

	// The paper's own answer is the ellipse with the least distances from the
	// points, 2.6996, 3.8160, 6.5187, 3.0319, 0.3596 in the comment of
	// example_ellipsefit1.m; digits recomputed with scipy from two starts. The
	// one-step fit of eight scattered points cannot reach it, nor pass it.
	best := Ellipse{2.6996121879, 3.8159566459, 6.5187223025, 3.0318860017, 0.3596242710}
	assert.InDelta(t, 1.1718811970, misfit(gander, best), printed)
	assert.Greater(t, misfit(gander, e), 1.1718811970)
}

func assertEllipse(t *testing.T, want, got Ellipse, tolerance float64) {
	t.Helper()
	assert.InDelta(t, want.X, got.X, tolerance, "centre x")
	assert.InDelta(t, want.Y, got.Y, tolerance, "centre y")
	assert.InDelta(t, want.A, got.A, tolerance, "major semi-axis")
	assert.InDelta(t, want.B, got.B, tolerance, "minor semi-axis")
	assert.InDelta(t, 0, fold(want.Theta-got.Theta), tolerance, "angle")
}

func TestDirectFitOfFarShiftedData(t *testing.T) {
	// scikit-image, test_ellipse_model_estimate_from_far_shifted_data.
	want := Ellipse{1e6, 2e6, 0.5, 0.1, 0.5}
	var points []Point
	for _, a := range []float64{0.107, 0.407, 1.108, 1.489, 2.216, 2.768, 3.183, 3.969, 4.840, 5.387, 5.792, 6.139} {
		points = append(points, want.At(a))
	}
	got, err := FitDirect(points)
	require.NoError(t, err)
	// Coordinates near 2e6 are stored to 2e-10, a part 2e-9 of the minor axis.
	const stored = 5e-9
	assertEllipse(t, want, got, stored)
}

func TestDirectFitKeepsTheAxesInOrderAtEveryAngle(t *testing.T) {
	// scikit-image, test_ellipse_parameter_stability.
	for degrees := 0; degrees <= 180; degrees++ {
		want := Ellipse{0, 0, 100, 50, float64(degrees) * math.Pi / 180}
		got, err := FitDirect(around(want, 20))
		require.NoError(t, err)
		require.GreaterOrEqual(t, got.A, got.B)
		require.Greater(t, got.Theta, -math.Pi/2)
		require.LessOrEqual(t, got.Theta, math.Pi/2)
		assertEllipse(t, want, got, rounding)
	}
}

// around are n points that start and end at the same place, as linspace does.
func around(e Ellipse, n int) []Point {
	points := make([]Point, n)
	for i := range points {
		points[i] = e.At(2 * math.Pi * float64(i) / float64(n-1))
	}
	return points
}

func TestDirectFitOfOneSidedArc(t *testing.T) {
	// Issue 6544: direct fit recomputed with numpy, agrees with OpenCV's to
	// 1e-3; OpenCV's own criterion: the points' middle lies inside.
	e, err := FitDirect(issue6544)
	require.NoError(t, err)
	assert.InDelta(t, 849.26552, e.X, 1e-5)
	assert.InDelta(t, 714.31335, e.Y, 1e-5)
	assert.InDelta(t, 175.05210, e.A, 1e-5)
	assert.InDelta(t, 83.82020, e.B, 1e-5)
	assert.Negative(t, e.Conic().At(mean(issue6544)))
}

func TestDirectFitRefusesTwoLines(t *testing.T) {
	// OpenCV Issue 10270: four of five points on x = 0. The conics through all
	// five contain that line, so no ellipse is best; OpenCV shakes the points
	// until one is.
	_, err := FitDirect([]Point{{0, 1}, {0, 2}, {0, 3}, {2, 3}, {0, 4}})
	assert.ErrorIs(t, err, ErrDegenerate)
	// Points along two parallel lines: those are the best conic, and flat.
	_, err = FitDirect([]Point{{0, 0}, {1, 0}, {3, 0}, {7, 0}, {0, 1}, {2, 1}, {5, 1}})
	assert.ErrorIs(t, err, ErrNotEllipse)
}

func TestDirectFitOfASquareAndItsMiddle(t *testing.T) {
	// OpenCV's test_fitellipse.cpp: axes 2√2 ± 0.3. Exactly: the circle with
	// the least squares of x² + y² - r² has r² = 4·2/5.
	e, err := FitDirect([]Point{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}, {0, 0}})
	require.NoError(t, err)
	assert.InDelta(t, 2*math.Sqrt2, 2*e.A, 0.3)
	assertEllipse(t, Ellipse{0, 0, math.Sqrt(1.6), math.Sqrt(1.6), 0}, Ellipse{e.X, e.Y, e.A, e.B, 0}, rounding)
}

func TestDirectFitRefusesWhatDoesNotFixACurve(t *testing.T) {
	line := []Point{{0, 1}, {1, 3}, {2, 5}, {3, 7}, {4, 9}, {5, 11}}
	square := []Point{{0, 0}, {4, 1}, {3, 5}, {-1, 4}, {0, 0}, {4, 1}} // four different ones
	nan := append([]Point{{math.NaN(), 0}}, gander...)
	cases := map[string]struct {
		points []Point
		want   error
	}{
		"four points":     {gander[:4], ErrTooFewPoints},
		"line":            {line, ErrDegenerate},
		"one place":       {make([]Point, 9), ErrDegenerate},
		"four places":     {square, ErrDegenerate},
		"not a number":    {nan, ErrDegenerate},
		"none":            {nil, ErrTooFewPoints},
		"far line":        {[]Point{{1e6, 0}, {1e6, 1}, {1e6, 2}, {1e6, 3}, {1e6, 4}}, ErrDegenerate},
		"sloping far one": {[]Point{{1e6, 0}, {1e6 + 1, 3}, {1e6 + 2, 6}, {1e6 + 3, 9}, {1e6 + 4, 12}}, ErrDegenerate},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			_, err := FitDirect(c.points)
			assert.ErrorIs(t, err, c.want)
		})
	}
}

func TestDirectFitSweep(t *testing.T) {
	// Exact points on ellipses of many places, sizes, shapes and arcs, down to
	// perfect circles and up to many points (opencv issue 28627: its direct fit
	// fails on nearly round sets of many points).
	rng := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		a := math.Exp(rng.Float64() * 7)
		want := Ellipse{4000 * rng.Float64(), 3000 * rng.Float64(), a, a * (1 - 0.7*math.Pow(rng.Float64(), 8)), fold(3 * rng.Float64())}
		n, arc, from := 6+rng.IntN(1000), (0.3+0.7*rng.Float64())*2*math.Pi, 6*rng.Float64()
		var points []Point
		for i := range n {
			points = append(points, want.At(from+arc*float64(i)/float64(n)))
		}
		got, err := FitDirect(points)
		require.NoError(t, err, "%v", want)
		// Coordinates of 4000 are stored to 5e-13; the shortest arc (110
		// degrees) blows that up about a thousand times.
		tolerance := 1e-8 * (1 + a/100)
		require.InDelta(t, want.X, got.X, tolerance)
		require.InDelta(t, want.Y, got.Y, tolerance)
		require.InDelta(t, want.A, got.A, tolerance)
		require.InDelta(t, want.B, got.B, tolerance)
	}
}

func TestDirectFitIsAffinelyInvariant(t *testing.T) {
	// The constraint 4ac - b² only changes by a factor, so mapping the points
	// and mapping the fit agree, noise or not.
	shear := func(p Point) Point { return Point{3*p.X + 2*p.Y - 7, 0.5*p.Y - p.X + 11} }
	var mapped []Point
	for _, p := range gander {
		mapped = append(mapped, shear(p))
	}
	before, err := FitDirect(gander)
	require.NoError(t, err)
	after, err := FitDirect(mapped)
	require.NoError(t, err)
	for i := range 12 {
		assert.InDelta(t, 0, distance(after, shear(before.At(float64(i)/2))), rounding)
	}
}

func BenchmarkFitDirect1000(b *testing.B) {
	points := around(Ellipse{2000, 1500, 300, 250, 0.4}, 1000)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := FitDirect(points); err != nil {
			b.Fatal(err)
		}
	}
}
