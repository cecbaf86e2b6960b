package coverage

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// JCGM 100:2008, Annex H.1, an end gauge of 50 mm: its length is
// ls + d - ls (δα θ + αs δθ), all inputs uncorrelated; data as in the GTC
// documentation (MSL New Zealand), docs/API/GUM_H1.rst. Lengths in nm.
func TestEndGauge(t *testing.T) {
	const ls, alpha, theta = 50000623.0, 11.5e-6, -0.1
	gauge := []struct{ u, by float64 }{
		{25, 1},                      // ls, but for 1e-6 of it
		{5.8, 1}, {3.9, 1}, {6.7, 1}, // d: repeated readings, comparator's chance and bias
		{2e-6 / math.Sqrt(3), 0},           // αs, with δθ = 0
		{1e-6 / math.Sqrt(3), -ls * theta}, // δα
		{0.41, 0},                          // θ, with δα = 0
		{0.05 / math.Sqrt(3), -ls * alpha}, // δθ
	}
	variances, jacobian := mat.NewDiagDense(len(gauge), nil), mat.NewDense(1, len(gauge), nil)
	for i, in := range gauge {
		variances.SetDiag(i, in.u*in.u)
		jacobian.Set(0, i, in.by)
	}
	line := func(from, to int) float64 { // these inputs' share
		u := mat.NewDiagDense(to-from, nil)
		for i := from; i < to; i++ {
			u.SetDiag(i-from, variances.At(i, i))
		}
		return math.Sqrt(Propagate(jacobian.Slice(0, 1, from, to), u).At(0, 0))
	}
	assert.InDelta(t, 9.7, line(1, 4), 0.05)
	assert.InDelta(t, 2.887, line(5, 6), 5e-4)
	assert.InDelta(t, 16.599, line(7, 8), 5e-4)
	length := math.Sqrt(Propagate(jacobian, variances).At(0, 0))
	assert.InDelta(t, 31.66, length, 0.005) // published: 32
	// The same as errors along one axis of the plane.
	along := func(u float64) [2][2]float64 { return [2][2]float64{{u * u, 0}, {0, 0}} }
	sum := Sum(along(25), along(5.8), along(3.9), along(6.7), along(2.887), along(16.599))
	assert.InDelta(t, 31.66, math.Sqrt(sum[0][0]), 0.005)
	// With the terms of second order, 11.73 and 1.67: published 34.
	assert.InDelta(t, 33.81, math.Sqrt(Sum(sum, along(11.73), along(1.67))[0][0]), 0.005)
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
	// A common error of 0.005 °C on top, in all readings alike: published by
	// GTC's example, 0.00576893, and no change of the slope's.
	all := mat.NewDense(11, 12, nil)
	inputs := mat.NewDiagDense(12, nil)
	for i := range b {
		all.Set(i, i, 1)
		all.Set(i, 11, 1)
		inputs.SetDiag(i, variance)
	}
	inputs.SetDiag(11, 0.005*0.005)
	u = Propagate(&solver, Propagate(all, inputs))
	assert.InDelta(t, 0.00576893, math.Sqrt(u.At(0, 0)), 1e-8)
	assert.InDelta(t, 0.00066794, math.Sqrt(u.At(1, 1)), 1e-8)
}

// JCGM 101:2008, 9.2: sums of four by the law of propagation; ±3.92 and ±19.9
// are printed (from memory), digits recomputed. An error in one direction of
// the plane has its interval as radius. For rectangular inputs the printed
// Monte Carlo intervals, ±3.88 and ±17.0, are narrower: the law is on the safe
// side.
func TestSumsOfFour(t *testing.T) {
	ones := mat.NewDense(1, 4, []float64{1, 1, 1, 1})
	for _, c := range []struct {
		last, u, half, rectangular float64
	}{
		{1, 2, 3.919928, 2 * math.Sqrt(3) * (2 - math.Pow(3./5, 1./4))},
		{10, math.Sqrt(103), 19.891, 17.0158},
	} {
		variance := Propagate(ones, mat.NewDiagDense(4, []float64{1, 1, 1, c.last * c.last})).At(0, 0)
		assert.InDelta(t, c.u, math.Sqrt(variance), 1e-12)
		half := Radius([2][2]float64{{variance, 0}, {0, 0}}, 0.95)
		assert.InDelta(t, c.half, half, 0.001)
		assert.Greater(t, half, c.rectangular)
	}
}

func TestCovariancesInThePlane(t *testing.T) {
	// Turning by 30 degrees the covariance with axes 2 and 1.
	s, c := 0.5, math.Sqrt(3)/2
	turned := Propagate(mat.NewDense(2, 2, []float64{c, -s, s, c}), mat.NewDiagDense(2, []float64{4, 1}))
	want := mat.NewDense(2, 2, []float64{3.25, 3 * math.Sqrt(3) / 4, 3 * math.Sqrt(3) / 4, 1.75})
	assert.True(t, mat.EqualApprox(want, turned, 1e-12), "%v", turned)
	sum := Sum(Isotropic(3), [2][2]float64{{16, 2}, {2, 0}})
	assert.Equal(t, [2][2]float64{{25, 2}, {2, 9}}, sum)
	assert.InDelta(t, math.Sqrt(17), RMS(sum), 1e-12)
	assert.Equal(t, [2][2]float64{}, Sum())
}
