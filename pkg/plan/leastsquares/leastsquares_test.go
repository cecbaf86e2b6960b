package leastsquares

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// fitted solves a y = a x, row for row.
func fitted(t *testing.T, a [][]float64, b []float64) Fit {
	t.Helper()
	flat := make([]float64, 0, len(a)*len(a[0]))
	for _, row := range a {
		flat = append(flat, row...)
	}
	f, err := Solve(mat.NewDense(len(a), len(a[0]), flat), b)
	require.NoError(t, err)
	return f
}

// sigma is the standard deviation of a coefficient, from the residuals.
func (f Fit) sigma(i, rows int) float64 {
	return math.Sqrt(f.Covariance.At(i, i) * f.Residual / float64(rows-len(f.X)))
}

// relative is how many digits of a certified value are asked for.
func relative(t *testing.T, want, got, tol float64) {
	t.Helper()
	assert.InDelta(t, 1, got/want, tol, "want %v, got %v", want, got)
}

// NIST Statistical Reference Datasets, linear regression: Norris, lower difficulty.
func TestNorrisOfNIST(t *testing.T) {
	x := []float64{0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5}
	y := []float64{0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2}
	var a [][]float64
	for _, v := range x {
		a = append(a, []float64{1, v})
	}
	f := fitted(t, a, y)
	relative(t, -0.262323073774029, f.X[0], 1e-11)
	relative(t, 1.00211681802045, f.X[1], 1e-13)
	relative(t, 26.6173985294224, f.Residual, 1e-11)
	relative(t, 0.232818234301152, f.sigma(0, len(y)), 1e-11)
	relative(t, 0.429796848199937e-3, f.sigma(1, len(y)), 1e-11)
}

// NoInt1 and NoInt2 of the same collection, without a constant.
func TestNoIntOfNIST(t *testing.T) {
	f := fitted(t, [][]float64{{4}, {5}, {6}}, []float64{3, 4, 4})
	relative(t, 0.727272727272727, f.X[0], 1e-13)
	relative(t, 0.420827318078432e-1, f.sigma(0, 3), 1e-12)
	var a [][]float64
	var y []float64
	for i := range 11 {
		a, y = append(a, []float64{60 + float64(i)}), append(y, 130+float64(i))
	}
	f = fitted(t, a, y)
	relative(t, 2.07438016528926, f.X[0], 1e-13)
	relative(t, 0.0165289256198347, f.sigma(0, len(y)), 1e-12)
	relative(t, 127.272727272727, f.Residual, 1e-12)
}

// Longley of the same collection: seven columns that almost depend on each other.
// The certified values are NIST's; the data are from memory, and would not give
// them with a digit wrong.
func TestLongleyOfNIST(t *testing.T) {
	data := [][]float64{
		{60323, 83.0, 234289, 2356, 1590, 107608, 1947}, {61122, 88.5, 259426, 2325, 1456, 108632, 1948},
		{60171, 88.2, 258054, 3682, 1616, 109773, 1949}, {61187, 89.5, 284599, 3351, 1650, 110929, 1950},
		{63221, 96.2, 328975, 2099, 3099, 112075, 1951}, {63639, 98.1, 346999, 1932, 3594, 113270, 1952},
		{64989, 99.0, 365385, 1870, 3547, 115094, 1953}, {63761, 100.0, 363112, 3578, 3350, 116219, 1954},
		{66019, 101.2, 397469, 2904, 3048, 117388, 1955}, {67857, 104.6, 419180, 2822, 2857, 118734, 1956},
		{68169, 108.4, 442769, 2936, 2798, 120445, 1957}, {66513, 110.8, 444546, 4681, 2637, 121950, 1958},
		{68655, 112.6, 482704, 3813, 2552, 123366, 1959}, {69564, 114.2, 502601, 3931, 2514, 125368, 1960},
		{69331, 115.7, 518173, 4806, 2572, 127852, 1961}, {70551, 116.9, 554894, 4007, 2827, 130081, 1962},
	}
	var a [][]float64
	var y []float64
	for _, row := range data {
		a, y = append(a, append([]float64{1}, row[1:]...)), append(y, row[0])
	}
	f := fitted(t, a, y)
	for i, want := range []float64{-3482258.63459582, 15.0618722713733, -0.0358191792925910, -2.02022980381683, -1.03322686717359, -0.0511041056535807, 1829.15146461355} {
		relative(t, want, f.X[i], 1e-7)
	}
	relative(t, 836424.055505915, f.Residual, 1e-9)
}

// Wampler2 of the same collection: a polynomial of the fifth degree whose
// coefficients are 1, 0.1, ... 1e-5; normal equations lose most digits here.
func TestWampler2OfNIST(t *testing.T) {
	var a [][]float64
	var y []float64
	for i := range 21 {
		row, sum, x := make([]float64, 6), 0.0, float64(i)
		for k := range row {
			row[k] = math.Pow(x, float64(k))
			sum += row[k] * math.Pow(0.1, float64(k))
		}
		a, y = append(a, row), append(y, sum)
	}
	f := fitted(t, a, y)
	for k := range 6 {
		relative(t, math.Pow(0.1, float64(k)), f.X[k], 1e-8)
	}
}

// By hand for A = (1 0; 0 1; 1 1), b = (1, 2, 4): the normal equations (2 1; 1 2) x = (5, 6)
// give (4/3, 7/3); a ridge of 1, (3 1; 1 3) x = (5, 6), gives (9/8, 13/8); the last row
// with weight 4, (5 4; 4 5) x = (17, 18), gives (13/9, 22/9) with the inverse
// (5 -4; -4 5)/9 as covariance.
func TestWeightsAndPriorsByHand(t *testing.T) {
	solve := func(us [3]float64, prior float64) Fit {
		r := &Equations{Width: 2}
		for i, c := range [][]float64{{1, 0}, {0, 1}, {1, 1}} {
			r.Add(c, []float64{1, 2, 4}[i], us[i])
		}
		if prior > 0 {
			r.Add([]float64{1, 0}, 0, prior)
			r.Add([]float64{0, 1}, 0, prior)
		}
		f, err := r.Solve()
		require.NoError(t, err)
		return f
	}
	const tol = 1e-14
	assert.InDeltaSlice(t, []float64{4. / 3, 7. / 3}, solve([3]float64{1, 1, 1}, 0).X, tol)
	assert.InDeltaSlice(t, []float64{9. / 8, 13. / 8}, solve([3]float64{1, 1, 1}, 1).X, tol)
	f := solve([3]float64{1, 1, 0.5}, 0)
	assert.InDeltaSlice(t, []float64{13. / 9, 22. / 9}, f.X, tol)
	for i, want := range [][]float64{{5. / 9, -4. / 9}, {-4. / 9, 5. / 9}} {
		assert.InDeltaSlice(t, want, mat.Row(nil, i, f.Covariance), tol)
	}
}

// Rank 1: of all solutions the shortest. By hand: both columns are (1, 1, 2), so that
// x₁ + x₂ = (1, 1, 2)·(1, 2, 3)/6 = 3/2, and the shortest such x has equal parts.
func TestRankOneGivesTheLeastNorm(t *testing.T) {
	f := fitted(t, [][]float64{{1, 1}, {1, 1}, {2, 2}}, []float64{1, 2, 3})
	assert.InDeltaSlice(t, []float64{0.75, 0.75}, f.X, 1e-14)
	assert.Equal(t, 1, f.Rank)
}

// Hilbert's matrix of order 4 with Tikhonov's rows: the values are (HᵀH + λI)x = Hᵀb, b =
// H·1, solved in exact fractions.
func TestHilbertWithARidge(t *testing.T) {
	for lambda, want := range map[float64][]float64{
		1e-6: {.99999253, .99541978, 1.01737311, .98601548},
		1e-4: {.98058205, 1.08115782, 1.00434795, .90970482},
		1e-2: {1.08535597, 1.04081165, .89062172, .76650214},
	} {
		r := &Equations{Width: 4}
		for i := range 4 {
			row, sum := make([]float64, 4), 0.0
			for j := range row {
				row[j] = 1 / float64(i+j+1)
				sum += row[j]
			}
			r.Add(row, sum, 1)
			unit := make([]float64, 4)
			unit[i] = 1
			r.Add(unit, 0, 1/math.Sqrt(lambda))
		}
		f, err := r.Solve()
		require.NoError(t, err)
		assert.InDeltaSlice(t, want, f.X, 1e-8)
	}
}

// Two readings with a common covariance count as the inverse covariance says: the
// weighted mean of one unknown read as 1 and 2 with variances 1 and 4 and a covariance
// of 1 is 1, by hand: weights (3, 0)/3.
func TestAPairIsWeightedByItsCovariance(t *testing.T) {
	r := &Equations{Width: 1}
	r.AddPair([2][]float64{{1}, {1}}, [2]float64{1, 2}, [2][2]float64{{1, 1}, {1, 4}})
	f, err := r.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 1, f.X[0], 1e-14)
	assert.InDelta(t, 1, f.Covariance.At(0, 0), 1e-14)
}

// bedPositions is an example of two mirrors: at lengths l₁ from the first to the second
// and l₂ from there to the head, angles a₁ and a₂ of the beam move the spot by a₁ (l₁ +
// l₂) + a₂ l₂. Truth 2 and -3 mrad with an offset of 0.5 mm that no angle makes gives
// the four offsets. Columns are in units of 10 mrad.
func bedPositions() (a [][]float64, offsets []float64) {
	for _, l := range [][2]float64{{300, 200}, {300, 1000}, {900, 200}, {900, 1000}} {
		a = append(a, []float64{(l[0] + l[1]) / 100, l[1] / 100})
	}
	return a, []float64{0.9, 0.1, 2.1, 1.3}
}

// Its least squares solution, plain, weighted and regularised, with deviations, as
// numpy's lstsq gives them.
func TestBedPositionsByLeastSquares(t *testing.T) {
	a, offsets := bedPositions()
	for _, c := range []struct {
		last, lambda float64 // weight of the last station; ridge in mm² per rad²
		want         []float64
		residuals    []float64
	}{
		{1, 0, []float64{-2.459770, 3.201149}, []float64{.310345, .103448, .034483, -.172414}},
		{0.25, 0, []float64{-2.515588, 3.191847}, []float64{.280576, .021583, -.028777, -.287770}},
		{1, 1e5, []float64{-1.811262, 2.007175}, []float64{.395804, -.247465, .509047, -.134223}},
	} {
		r := &Equations{Width: 2}
		for k, row := range a {
			weight := 1.0
			if k == 3 {
				weight = c.last
			}
			r.Add(row, -offsets[k], 1/math.Sqrt(weight))
		}
		if c.lambda > 0 {
			u := 100 / math.Sqrt(c.lambda) // 1/√λ rad in units of 10 mrad
			r.Add([]float64{1, 0}, 0, u)
			r.Add([]float64{0, 1}, 0, u)
		}
		f, err := r.Solve()
		require.NoError(t, err)
		for i, mrad := range c.want {
			assert.InDelta(t, mrad, 10*f.X[i], 2e-6)
		}
		for k, row := range a {
			assert.InDelta(t, c.residuals[k], offsets[k]+row[0]*f.X[0]+row[1]*f.X[1], 2e-6)
		}
		if c.last == 1 && c.lambda == 0 {
			s0, s1 := math.Sqrt(f.Covariance.At(0, 0)), math.Sqrt(f.Covariance.At(1, 1))
			assert.InDelta(t, 0.111589, s0, 2e-6, "mrad for 0.1 mm: the units cancel")
			assert.InDelta(t, 0.201170, s1, 2e-6)
			assert.InDelta(t, -0.938723, f.Covariance.At(0, 1)/s0/s1, 2e-6)
		}
	}
}
