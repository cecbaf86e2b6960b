// Package leastsquares solves overdetermined and underdetermined linear equations
// whose right sides carry normal errors.
//
// What is known beforehand is one more equation: Bayesian least squares with a normal
// prior is least squares with the prior's rows added. Units are the caller's.
package leastsquares

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Fit is a linear least squares solution.
type Fit struct {
	// X are the unknowns.
	X []float64
	// Covariance is that of X when every row has unit variance, as Equations makes
	// them: (AᵀA)⁺. Directions that are not determined count as known to be 0 in it.
	Covariance *mat.SymDense
	// Residual is the sum of the squared residuals of the rows.
	Residual float64
	// Rank counts the directions that the rows determine.
	Rank int
}

// ErrNotConverged is a singular value decomposition that did not converge, as with
// numbers that are no numbers.
var ErrNotConverged = errors.New("the least squares solution did not converge: check the report's numbers")

// rankTolerance is the singular value, over the largest, below which a direction
// counts as not determined. Double precision is 2.2e-16, and the decomposition of a
// matrix of some tens of rows loses about one digit of it; with columns of equal
// length 1e-13 is a hundred times that. Above, directions that a mirror's screws do
// determine would be dropped; below, rounding would count as a reading.
const rankTolerance = 1e-13

// Solve minimises |a x - b| by the singular value decomposition a = U S Vᵀ:
//
//	x = Σ_k (u_k·b / s_k) v_k,   covariance = Σ_k v_k v_kᵀ / s_k²
//
// over the singular values above rankTolerance, which gives the solution of least norm
// where there is a choice (G. H. Golub, C. Reinsch, Numer. Math. 14, 403, 1970 [from
// memory]). Columns are scaled to the same length first, so that units do not decide
// the rank; the least norm is that of the scaled unknowns.
func Solve(a *mat.Dense, b []float64) (Fit, error) {
	rows, cols := a.Dims()
	scaled, scale := columnsScaled(a)
	var svd mat.SVD
	if !svd.Factorize(scaled, mat.SVDThin) {
		return Fit{}, ErrNotConverged
	}
	var u, v mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	values := svd.Values(nil)
	f := Fit{X: make([]float64, cols), Covariance: mat.NewSymDense(cols, nil)}
	for k, s := range values {
		if s <= rankTolerance*values[0] {
			break
		}
		f.Rank++
		along := make([]float64, cols)
		for j := range cols {
			along[j] = v.At(j, k) / scale[j] / s
		}
		f.add(mat.Dot(u.ColView(k), mat.NewVecDense(rows, b)), along)
	}
	var residual mat.VecDense
	residual.MulVec(a, mat.NewVecDense(cols, f.X))
	residual.SubVec(&residual, mat.NewVecDense(rows, b))
	f.Residual = mat.Dot(&residual, &residual)
	return f, nil
}

// columnsScaled is a with columns of length 1, and their lengths before; a column of
// zeros stays and counts as 1 long.
func columnsScaled(a *mat.Dense) (scaled *mat.Dense, scale []float64) {
	_, cols := a.Dims()
	scaled, scale = mat.DenseCopyOf(a), make([]float64, cols)
	for j := range cols {
		scale[j] = mat.Norm(a.ColView(j), 2)
		if scale[j] == 0 {
			scale[j] = 1
		}
	}
	scaled.Apply(func(_, j int, v float64) float64 { return v / scale[j] }, scaled)
	return scaled, scale
}

// add takes one singular direction in: its coefficient u·b and its vector v/s.
func (f *Fit) add(coefficient float64, along []float64) {
	for j, v := range along {
		f.X[j] += coefficient * v
	}
	f.Covariance.SymRankOne(f.Covariance, 1, mat.NewVecDense(len(along), along))
}

// Equations gathers weighted rows. Width is the number of unknowns.
type Equations struct {
	Width int
	a, b  []float64
}

// Add takes the equation coefficients·x = value, of standard uncertainty u > 0: the
// row is divided by u, so that it has unit variance.
func (e *Equations) Add(coefficients []float64, value, u float64) {
	for _, c := range coefficients {
		e.a = append(e.a, c/u)
	}
	e.b = append(e.b, value/u)
}

// AddPair takes two equations with a common, positive definite covariance C. With
// Cholesky's C = L Lᵀ, L = (l 0; m n), the rows L⁻¹(a, b) are independent and have unit
// variance: the first is a₁/l, the second (a₂ - m/l a₁)/n.
func (e *Equations) AddPair(coefficients [2][]float64, value [2]float64, covariance [2][2]float64) {
	l := math.Sqrt(covariance[0][0])
	m := covariance[0][1] / l
	n := math.Sqrt(covariance[1][1] - m*m)
	e.Add(coefficients[0], value[0], l)
	second := make([]float64, e.Width)
	for i := range second {
		second[i] = coefficients[1][i] - m/l*coefficients[0][i]
	}
	e.Add(second, value[1]-m/l*value[0], n)
}

// Solve solves the rows that were added.
func (e *Equations) Solve() (Fit, error) {
	return Solve(mat.NewDense(len(e.b), e.Width, e.a), e.b)
}
