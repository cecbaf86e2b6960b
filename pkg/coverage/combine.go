package coverage

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Input is a component of uncertainty: its standard uncertainty, already
// multiplied by its sensitivity, and its degrees of freedom. DF 0 (and +Inf)
// means that U itself is not in doubt, as for a type B component with a known
// bound.
type Input struct {
	U  float64
	DF float64
}

// Combine adds uncorrelated components: root of the sum of squares (JCGM 100,
// 5.1.2), with the effective degrees of freedom of Welch and Satterthwaite
// (G.4.1), +Inf where no component has a finite number.
func Combine(inputs ...Input) Input {
	var variance, doubt float64
	for _, in := range inputs {
		u := in.U * in.U
		variance += u
		if in.DF > 0 {
			doubt += u * u / in.DF
		}
	}
	df := math.Inf(1)
	if doubt > 0 {
		df = variance * variance / doubt
	}
	return Input{math.Sqrt(variance), df}
}

// Expanded is the half width of the interval that holds the value with
// probability p, for a normal value with an uncertainty from DF degrees of
// freedom (JCGM 100, G.3). JCGM 100 truncates the degrees of freedom to a
// whole number first; here they are used as they are.
func (in Input) Expanded(p float64) float64 { return StudentFactor(in.DF, p) * in.U }

// StudentFactor is the coverage factor t_p of Student's distribution for the
// two-sided probability p. df 0 or +Inf gives the normal distribution's.
func StudentFactor(df, p float64) float64 {
	if df == 0 || df > 1e7 { // beyond, the two agree to 1e-7
		return Normal((1 + p) / 2)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile((1 + p) / 2)
}

// Normal is the quantile of the standard normal distribution: 1.645 for 0.95.
func Normal(p float64) float64 { return distuv.UnitNormal.Quantile(p) }

// Propagate takes the covariance u of the inputs to that of the outputs,
// J U Jᵀ, with J[i][k] the derivative of output i by input k (JCGM 100, 5.2.2
// for one output, H.2 for several). It panics where the sizes do not fit.
func Propagate(jacobian mat.Matrix, u mat.Symmetric) *mat.SymDense {
	var half, full mat.Dense
	half.Mul(jacobian, u)
	full.Mul(&half, jacobian.T())
	n, _ := full.Dims()
	out := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			out.SetSym(i, j, (full.At(i, j)+full.At(j, i))/2)
		}
	}
	return out
}

// Transform is Propagate for two inputs and two outputs.
func Transform(jacobian, u [2][2]float64) [2][2]float64 {
	j := mat.NewDense(2, 2, []float64{jacobian[0][0], jacobian[0][1], jacobian[1][0], jacobian[1][1]})
	s := Propagate(j, mat.NewSymDense(2, []float64{u[0][0], (u[0][1] + u[1][0]) / 2, 0, u[1][1]}))
	return [2][2]float64{{s.At(0, 0), s.At(0, 1)}, {s.At(1, 0), s.At(1, 1)}}
}

// Sum is the covariance of a sum of independent errors in the plane.
func Sum(covariances ...[2][2]float64) (out [2][2]float64) {
	for _, c := range covariances {
		for i := range out {
			for j := range out[i] {
				out[i][j] += c[i][j]
			}
		}
	}
	return out
}

// Isotropic is the covariance of an error with the same standard uncertainty u in
// every direction of the plane.
func Isotropic(u float64) [2][2]float64 { return [2][2]float64{{u * u, 0}, {0, u * u}} }

// RMS is the standard uncertainty of one axis, root mean square over the two:
// one number for a line of the budget.
func RMS(cov [2][2]float64) float64 { return root((cov[0][0] + cov[1][1]) / 2) }

// RepeatFactor is the size of the region that holds the true mean of n places
// in the plane with probability p when nothing but their own scatter is known:
// the factor on the ellipse of their sample covariance (H. Hotelling's T², for
// two coordinates). It is 3.8 for four places and 2.3 for five: with so few,
// scatter alone is no base for a statement. +Inf for n <= 2.
func RepeatFactor(n int, p float64) float64 {
	if n <= 2 {
		return math.Inf(1)
	}
	// T² = 2 (n-1)/(n-2) F, and F with 2 and n-2 degrees of freedom has the
	// quantile (n-2)/2 ((1-p)^(-2/(n-2)) - 1) in closed form.
	m := float64(n - 2)
	return math.Sqrt((float64(n) - 1) / float64(n) * math.Expm1(-2/m*math.Log1p(-p)))
}
