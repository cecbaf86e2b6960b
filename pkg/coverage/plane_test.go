package coverage

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
)

const (
	table = 5.1e-6 // tables to five decimals
	exact = 1e-9   // values given to nine decimals
)

func TestRoundErrorHasRayleighsRadius(t *testing.T) {
	// P(R <= k sigma) = 1 - exp(-k²/2).
	for k, p := range map[float64]float64{1: 0.393469340, 2: 0.864664717, 3: 0.988891003} {
		assert.InDelta(t, p, Within([2]float64{}, Isotropic(0.2), k*0.2), exact)
		assert.InDelta(t, k*0.2, Radius(Isotropic(0.2), p), 1e-8)
	}
	assert.InDelta(t, 2.447746831, Radius(Isotropic(1), 0.95), exact) // √(-2 ln 0.05)
	assert.InDelta(t, 1.177410023, Radius(Isotropic(1), 0.5), exact)  // √(2 ln 2)
}

func TestRadiusOfUnequalAxes(t *testing.T) {
	// The confidence circle of W. E. Hoover, NOAA Technical Report NOS 107
	// C&GS 3 (1984); digits recomputed with scipy, checked by Monte Carlo. Rows:
	// ratio of the axes; columns: 50, 90, 95, 99 %.
	rows := map[float64][4]float64{
		0: {.67449, 1.64485, 1.95996, 2.57583}, 0.1: {.68199, 1.64791, 1.96253, 2.57778},
		0.2: {.70585, 1.65731, 1.97041, 2.58377}, 0.3: {.74994, 1.67383, 1.98420, 2.59421},
		0.4: {.80785, 1.69918, 2.00514, 2.60995}, 0.5: {.87042, 1.73708, 2.03586, 2.63257},
		0.6: {.93365, 1.79152, 2.08130, 2.66533}, 0.7: {.99621, 1.86253, 2.14598, 2.71505},
		0.75: {1.02709, 1.90335, 2.18580, 2.74916}, 0.8: {1.05769, 1.94716, 2.23029, 2.79069},
		0.9: {1.11807, 2.04236, 2.33180, 2.89743}, 1: {1.17741, 2.14597, 2.44775, 3.03485},
	}
	for c, row := range rows {
		for i, p := range [4]float64{.5, .9, .95, .99} {
			assert.InDelta(t, row[i], Radius([2][2]float64{{c * c, 0}, {0, 1}}, p), table, "ratio %v, %v", c, p)
		}
	}
}

func TestRadiusOfACorrelatedError(t *testing.T) {
	// Worked example: sigma = 2.028681701, 0.940452316, axis at 10.9007 degrees.
	cov := [2][2]float64{{4, .6}, {.6, 1}}
	assert.InDelta(t, 4.104569105, Radius(cov, 0.95), exact)
	e := axes(cov)
	assert.InDelta(t, 2.028681701, e.major, exact)
	assert.InDelta(t, 0.940452316, e.minor, exact)
	assert.InDelta(t, 10.900704744, math.Atan2(e.y, e.x)*180/math.Pi, exact)
}

func TestRadiusOfLittleOrNoError(t *testing.T) {
	assert.Zero(t, Radius([2][2]float64{}, 0.95))
	assert.InDelta(t, 1.959963985*3e-9, Radius([2][2]float64{{9e-18, 0}, {0, 0}}, 0.95), 1e-17)
	// Rank one at 45 degrees, with rounding on its lesser eigenvalue.
	assert.InDelta(t, 1.959963985*math.Sqrt(0.2), Radius([2][2]float64{{.1, .1}, {.1, .1}}, 0.95), 1e-8)
	assert.Zero(t, Radius(Isotropic(1), 0))
	assert.True(t, math.IsInf(Radius(Isotropic(1), 1), 1))
	assert.True(t, math.IsNaN(Radius(Isotropic(math.NaN()), 0.5)))
	assert.True(t, math.IsNaN(Radius(Isotropic(1), math.NaN())))
}

func TestWithinADiscOffTheCentre(t *testing.T) {
	// Rice's distribution: 1 - Q1(nu/s, R/s), by scipy's noncentral chi-square.
	for _, c := range []struct{ nu, sigma, limit, want float64 }{
		{1, 1, 2, .730987940}, {2, 1, 2, .396499039}, {3, 1, 3, .432520238}, {0.5, 1, 1, .357285770},
		// A burn at nu mm with a limit of 0.8 mm (six decimals).
		{.5, .1, .8, .998257}, {.7, .1, .8, .824600}, {.8, .1, .8, .475017}, {.8, .05, .8, .487527},
	} {
		tolerance := 6e-10
		if c.limit == .8 {
			tolerance = 6e-7
		}
		for turn := range 8 { // in any direction
			s, k := math.Sincos(float64(turn))
			got := Within([2]float64{c.nu * k, c.nu * s}, Isotropic(c.sigma), c.limit)
			assert.InDelta(t, c.want, got, tolerance, "%v", c)
		}
	}
}

func TestDistanceIsBiasedOutward(t *testing.T) {
	// Mean of Rice's distribution, sigma 1: a measured distance from the centre
	// is too long. E(R) is the integral of P(R > r).
	for nu, want := range map[float64]float64{0: 1.253314, .5: 1.330447, 1: 1.548572, 2: 2.272383, 5: 5.101070} {
		beyond := func(r float64) float64 { return 1 - Within([2]float64{nu, 0}, Isotropic(1), r) }
		assert.InDelta(t, want, quad.Fixed(beyond, 0, nu+9, 60, nil, 0), 1e-6, "%v", nu)
	}
}

func TestWithinAgreesWithASumOverTheDisc(t *testing.T) {
	// A plain sum over small cells in polar coordinates, for covariances of any
	// shape and means inside and outside.
	rng := rand.New(rand.NewPCG(21, 22))
	for range 25 {
		a, b, c := 0.3+rng.Float64(), 0.3+rng.Float64(), 1.6*rng.Float64()-0.8
		cov := [2][2]float64{{a * a, a * b * c}, {a * b * c, b * b}}
		mean := [2]float64{rng.NormFloat64(), rng.NormFloat64()}
		limit := 0.5 + 2*rng.Float64()
		require.InDelta(t, summed(mean, cov, limit), Within(mean, cov, limit), 1e-5)
	}
}

// summed is the midpoint rule over 400 x 400 cells of the disc.
func summed(mean [2]float64, cov [2][2]float64, limit float64) float64 {
	const n = 400
	det := cov[0][0]*cov[1][1] - cov[0][1]*cov[1][0]
	var sum float64
	for i := range n {
		r := limit * (float64(i) + 0.5) / n
		for k := range n {
			s, c := math.Sincos(2 * math.Pi * float64(k) / n)
			x, y := r*c-mean[0], r*s-mean[1]
			q := (cov[1][1]*x*x - 2*cov[0][1]*x*y + cov[0][0]*y*y) / det
			sum += r * math.Exp(-q/2)
		}
	}
	return sum * limit / n * 2 * math.Pi / n / (2 * math.Pi * math.Sqrt(det))
}

func TestWithinForSharpAndFlatErrors(t *testing.T) {
	for _, c := range []struct {
		name  string
		mean  [2]float64
		cov   [2][2]float64
		limit float64
		want  float64
	}{
		{"no error, inside", [2]float64{1.9, 0}, [2][2]float64{}, 2, 1},
		{"no error, outside", [2]float64{1.5, 1.5}, [2][2]float64{}, 2, 0},
		{"tiny error, inside", [2]float64{1, 1}, Isotropic(1e-5), 2, 1},
		{"tiny error, outside", [2]float64{1.5, 1.5}, Isotropic(1e-5), 2, 0},
		// On a nearly straight edge: half, less s/(R √(8π)) for its bend.
		{"tiny error, on the edge", [2]float64{0, 2}, Isotropic(1e-3), 2, 0.5 - 1e-3/2/math.Sqrt(8*math.Pi)},
		{"tinier", [2]float64{2, 0}, Isotropic(1e-6), 2, 0.5 - 1e-6/2/math.Sqrt(8*math.Pi)},
		{"tiniest", [2]float64{2, 0}, Isotropic(1e-9), 2, 0.5},
		// Error along x only: the chord at y.
		{"one direction", [2]float64{1, 1.2}, [2][2]float64{{0.25, 0}, {0, 0}}, 2, phi(1.2) - phi(-5.2)},
		{"one direction, beside", [2]float64{0, 2.5}, [2][2]float64{{4, 0}, {0, 0}}, 2, 0},
		{"nearly one direction", [2]float64{1, 1.2}, [2][2]float64{{0.25, 0}, {0, 1e-10}}, 2, phi(1.2) - phi(-5.2)},
		// Huge error: area of the disc times the density.
		{"huge error", [2]float64{}, Isotropic(1000), 2, -math.Expm1(-2e-6)},
		{"far outside", [2]float64{100, 0}, Isotropic(1), 2, 0},
		{"no limit", [2]float64{}, Isotropic(1), 0, 0},
	} {
		tolerance := 1e-9
		assert.InDelta(t, c.want, Within(c.mean, c.cov, c.limit), tolerance, c.name)
	}
	assert.True(t, math.IsNaN(Within([2]float64{math.NaN(), 0}, Isotropic(1), 1)))
	assert.True(t, math.IsNaN(Within([2]float64{}, Isotropic(1), math.NaN())))
}

func phi(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

func TestRadiusHoldsTheStatedShareOfDraws(t *testing.T) {
	// Monte Carlo as JCGM 101 does, from the Cholesky factor by hand.
	cov := [2][2]float64{{4, .6}, {.6, 1}}
	mean, limit := [2]float64{1, -0.5}, 2.0
	radius := Radius(cov, 0.95)
	rng := rand.New(rand.NewPCG(23, 24))
	const draws = 200000
	var held, within float64
	for range draws {
		a, b := rng.NormFloat64(), rng.NormFloat64()
		x, y := 2*a, 0.3*a+math.Sqrt(0.91)*b
		if math.Hypot(x, y) <= radius {
			held++
		}
		if math.Hypot(x+mean[0], y+mean[1]) <= limit {
			within++
		}
	}
	four := func(p float64) float64 { return 4 * math.Sqrt(p*(1-p)/draws) } // standard errors
	assert.InDelta(t, 0.95, held/draws, four(0.95))
	p := Within(mean, cov, limit)
	assert.InDelta(t, p, within/draws, four(p))
}

func BenchmarkRadius(b *testing.B) {
	for b.Loop() {
		Radius([2][2]float64{{4, .6}, {.6, 1}}, 0.95)
	}
}

func BenchmarkWithin(b *testing.B) {
	for b.Loop() {
		Within([2]float64{0.5, 0.4}, [2][2]float64{{4e-4, 1e-4}, {1e-4, 2e-4}}, 2)
	}
}
