package coverage

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// JCGM 100:2008, Annex H.1, an end gauge of 50 mm; inputs as in the GTC
// documentation (MSL New Zealand), docs/API/GUM_H1.rst.
func TestEndGauge(t *testing.T) {
	const ls = 50000623.0 // nm
	d := Combine(Input{5.8, 24}, Input{3.9, 5}, Input{6.7, 8})
	assert.InDelta(t, 9.7, d.U, 0.05)
	assert.InDelta(t, 25.6, d.DF, 0.2)                          // 25.45 unrounded
	expansion := Input{ls * 0.1 * 1e-6 / math.Sqrt(3), 50}      // δα at θ = -0.1 K
	temperature := Input{ls * 11.5e-6 * 0.05 / math.Sqrt(3), 2} // δθ at αs
	assert.InDelta(t, 2.887, expansion.U, 5e-4)
	assert.InDelta(t, 16.599, temperature.U, 5e-4)

	l := Combine(Input{25, 18}, d, expansion, temperature)
	assert.InDelta(t, 31.66, l.U, 0.005) // published: 32
	assert.InDelta(t, 16.75, l.DF, 0.05) // published: 16.7 (from memory), cut to 16
	assert.InDelta(t, 2.92078, StudentFactor(math.Floor(l.DF), 0.99), 5e-6)
	// Published 93 (from memory) is 2.92 · 32; 92.48 unrounded.
	assert.InDelta(t, 92.48, Input{l.U, math.Floor(l.DF)}.Expanded(0.99), 0.01)

	second := Combine(l, Input{U: 11.73}, Input{U: 1.67})
	assert.InDelta(t, 33.81, second.U, 0.005) // published: 34
}

func TestStudentFactors(t *testing.T) {
	// JCGM 100, table G.2; recomputed.
	df := []float64{1, 2, 3, 4, 5, 8, 10, 16, 20, 50}
	t95 := []float64{12.71, 4.30, 3.18, 2.78, 2.57, 2.31, 2.23, 2.12, 2.09, 2.01}
	t99 := []float64{63.66, 9.92, 5.84, 4.60, 4.03, 3.36, 3.17, 2.92, 2.85, 2.68}
	for i := range df {
		assert.InDelta(t, t95[i], StudentFactor(df[i], 0.95), 0.005)
		assert.InDelta(t, t99[i], StudentFactor(df[i], 0.99), 0.005)
	}
	for _, none := range []float64{0, math.Inf(1), 1e9} {
		assert.InDelta(t, 1.959963985, StudentFactor(none, 0.95), 1e-9)
	}
	assert.InDelta(t, 1.959963985, StudentFactor(1e7, 0.95), 1e-6) // no jump where they meet
}

// JCGM 100, Annex H.2; data as in GTC's type_a.py.
var (
	volts   = []float64{5.007, 4.994, 5.005, 4.990, 4.999}
	amperes = []float64{19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3}
	phases  = []float64{1.0456, 1.0438, 1.0468, 1.0428, 1.0433} // rad
)

func TestResistanceAndReactance(t *testing.T) {
	data := mat.NewDense(5, 3, nil)
	data.SetCol(0, volts)
	data.SetCol(1, amperes)
	data.SetCol(2, phases)
	var u mat.SymDense
	stat.CovarianceMatrix(&u, data, nil)
	u.ScaleSym(1./5, &u) // of the means
	v, i, p := stat.Mean(volts, nil), stat.Mean(amperes, nil), stat.Mean(phases, nil)
	assert.InDelta(t, -0.355311, correlation(&u, 0, 1), 1e-6) // printed -0.36, 0.86, -0.65
	assert.InDelta(t, 0.857624, correlation(&u, 0, 2), 1e-6)
	assert.InDelta(t, -0.645111, correlation(&u, 1, 2), 1e-6)

	z := v / i
	r, x := z*math.Cos(p), z*math.Sin(p)
	out := Propagate(mat.NewDense(3, 3, []float64{
		r / v, -r / i, -x,
		x / v, -x / i, r,
		z / v, -z / i, 0,
	}), &u)
	// Recomputed with numpy; printed 127.732(71), 219.847(295), 254.260(236),
	// -0.588, -0.485, 0.993 (from memory).
	assert.InDelta(t, 127.732170, r, 1e-6)
	for k, want := range []float64{0.071071, 0.295582, 0.236336} {
		assert.InDelta(t, want, math.Sqrt(out.At(k, k)), 1e-6)
	}
	assert.InDelta(t, -0.588430, correlation(out, 0, 1), 1e-6)
	assert.InDelta(t, -0.485259, correlation(out, 0, 2), 1e-6)
	assert.InDelta(t, 0.992512, correlation(out, 1, 2), 1e-6)

	// With the correlations left out, as they must not be.
	wrong := mat.NewSymDense(3, nil)
	for k := range 3 {
		wrong.SetSym(k, k, u.At(k, k))
	}
	resistance := Propagate(mat.NewDense(1, 3, []float64{r / v, -r / i, -x}), wrong)
	assert.InDelta(t, 0.194544, math.Sqrt(resistance.At(0, 0)), 1e-6)
}

func correlation(u mat.Symmetric, i, j int) float64 {
	return u.At(i, j) / math.Sqrt(u.At(i, i)*u.At(j, j))
}

// JCGM 100, Annex H.3, calibration of a thermometer; data as in GTC's
// GUM_H3.py.
func TestThermometer(t *testing.T) {
	at := []float64{21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511}
	b := []float64{-.171, -.169, -.166, -.159, -.164, -.165, -.156, -.157, -.159, -.161, -.160}
	design := mat.NewDense(11, 2, nil)
	for i, c := range at {
		design.SetRow(i, []float64{1, c - 20})
	}
	// The line's two numbers are linear in the readings: y = (AᵀA)⁻¹Aᵀ b.
	var square, inverse, solver mat.Dense
	square.Mul(design.T(), design)
	assert.NoError(t, inverse.Inverse(&square))
	solver.Mul(&inverse, design.T())
	var y, fitted mat.VecDense
	y.MulVec(&solver, mat.NewVecDense(11, b))
	fitted.MulVec(design, &y)
	var sum float64
	for i := range b {
		sum += (b[i] - fitted.AtVec(i)) * (b[i] - fitted.AtVec(i))
	}
	variance := sum / 9
	readings := mat.NewSymDense(11, nil)
	for i := range b {
		readings.SetSym(i, i, variance)
	}
	u := Propagate(&solver, readings)
	// Published -0.1712(29), 0.00218(67), r -0.930; digits recomputed with numpy.
	assert.InDelta(t, -0.17120379, y.AtVec(0), 1e-8)
	assert.InDelta(t, 0.00218270, y.AtVec(1), 1e-8)
	assert.InDelta(t, 0.00287760, math.Sqrt(u.At(0, 0)), 1e-8)
	assert.InDelta(t, 0.00066794, math.Sqrt(u.At(1, 1)), 1e-8)
	assert.InDelta(t, -0.930430, correlation(u, 0, 1), 1e-6)
	// At 30 °C: published -0.1494(41).
	predicted := Propagate(mat.NewDense(1, 2, []float64{1, 10}), u)
	assert.InDelta(t, 0.00413860, math.Sqrt(predicted.At(0, 0)), 1e-8)
	// About the mean temperature the two are uncorrelated.
	shift := stat.Mean(at, nil) - 20
	moved := Propagate(mat.NewDense(2, 2, []float64{1, shift, 0, 1}), u)
	assert.InDelta(t, 0.00105456, math.Sqrt(moved.At(0, 0)), 1e-8)
	assert.InDelta(t, 0, correlation(moved, 0, 1), 1e-9)
	// A common error of 0.005 °C on top: GTC gives 145.4 degrees of freedom.
	common := Combine(Input{math.Sqrt(u.At(0, 0)), 9}, Input{U: 0.005})
	assert.InDelta(t, 0.00576893, common.U, 1e-8)
	assert.InDelta(t, 145.4, common.DF, 0.05)
}

// JCGM 101:2008, 9.2: sums of four. The law of propagation is right about the
// standard uncertainty; about the interval only where the sum is near normal.
// Printed values from memory, exact ones recomputed.
func TestSumsOfFour(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	normal := rng.NormFloat64
	rectangular := func() float64 { return math.Sqrt(3) * (2*rng.Float64() - 1) }
	cases := []struct {
		name            string
		inputs          []Input
		draw            func() float64
		u, half, actual float64
	}{
		{"normal", []Input{{U: 1}, {U: 1}, {U: 1}, {U: 1}},
			func() float64 { return normal() + normal() + normal() + normal() }, 2, 3.92, 3.919928},
		{"rectangular", []Input{{U: 1}, {U: 1}, {U: 1}, {U: 1}},
			func() float64 { return rectangular() + rectangular() + rectangular() + rectangular() },
			2, 3.92, 2 * math.Sqrt(3) * (2 - math.Pow(3./5, 1./4))},
		{"one wide rectangle", []Input{{U: 1}, {U: 1}, {U: 1}, {U: 10}},
			func() float64 { return rectangular() + rectangular() + rectangular() + 10*rectangular() },
			math.Sqrt(103), 19.891, 17.0158},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			sum := Combine(c.inputs...)
			assert.InDelta(t, c.u, sum.U, 1e-12)
			assert.True(t, math.IsInf(sum.DF, 1))
			assert.InDelta(t, c.half, sum.Expanded(0.95), 0.001)

			const draws = 200000
			values := make([]float64, draws)
			for i := range values {
				values[i] = math.Abs(c.draw())
			}
			slices.Sort(values)
			// Four standard errors of a quantile (0.5 % of the value is wider
			// than that in all three) and of a standard deviation.
			assert.InEpsilon(t, c.actual, values[draws*95/100], 0.01)
			assert.InEpsilon(t, sum.U, math.Sqrt(meanSquare(values)), 0.01)
		})
	}
}

func meanSquare(values []float64) float64 {
	var sum float64
	for _, v := range values {
		sum += v * v
	}
	return sum / float64(len(values))
}

func TestCovariancesInThePlane(t *testing.T) {
	// Turning by 30 degrees the covariance with axes 2 and 1.
	s, c := 0.5, math.Sqrt(3)/2
	turned := Transform([2][2]float64{{c, -s}, {s, c}}, [2][2]float64{{4, 0}, {0, 1}})
	want := [2][2]float64{{3.25, 3 * math.Sqrt(3) / 4}, {3 * math.Sqrt(3) / 4, 1.75}}
	for i := range want {
		for j := range want[i] {
			assert.InDelta(t, want[i][j], turned[i][j], 1e-12)
		}
	}
	sum := Sum(Isotropic(3), [2][2]float64{{16, 2}, {2, 0}})
	assert.Equal(t, [2][2]float64{{25, 2}, {2, 9}}, sum)
	assert.InDelta(t, math.Sqrt(17), RMS(sum), 1e-12)
	assert.Equal(t, [2][2]float64{}, Sum())
}

func TestCombineOfNothing(t *testing.T) {
	none := Combine()
	assert.Zero(t, none.U)
	assert.True(t, math.IsInf(none.DF, 1))
}

func TestFewRepeatsSayLittle(t *testing.T) {
	// Hotelling's T² over n, 95 %, by scipy's F quantiles.
	for n, want := range map[int]float64{3: 16.3095, 4: 3.7749, 5: 2.2571, 6: 1.7010, 10: 1.0016, 20: 0.6125} {
		assert.InDelta(t, want, RepeatFactor(n, 0.95), 5e-5)
	}
	assert.True(t, math.IsInf(RepeatFactor(2, 0.95), 1))
}
