package coverage

import (
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

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
