package plan

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// fit is a linear least squares solution.
type fit struct {
	x        []float64
	unscaled *mat.SymDense // (AᵀA)⁻¹, in the range of A: the covariance for rows of unit variance
	rss      float64       // residual sum of squares
	rank     int
}

// errNotSolved is a singular value decomposition that did not converge.
var errNotSolved = errors.New("the least squares solution did not converge: check the report's numbers")

// rankTol is the singular value, over the largest, below which a direction counts
// as not determined. With unit columns 1e-13 leaves three digits above the
// rounding of a matrix of this size.
const rankTol = 1e-13

// leastSquares minimises |a x - b| by the singular value decomposition, of least
// norm where that leaves a choice (G. H. Golub, C. Reinsch, Numer. Math. 14, 403,
// 1970 [from memory]). Columns are scaled to the same length first, so that units
// do not decide the rank.
func leastSquares(a *mat.Dense, b []float64) (fit, error) {
	rows, cols := a.Dims()
	scaled, scale := mat.DenseCopyOf(a), make([]float64, cols)
	for j := range cols {
		scale[j] = mat.Norm(a.ColView(j), 2)
		if scale[j] == 0 {
			scale[j] = 1
		}
	}
	scaled.Apply(func(_, j int, v float64) float64 { return v / scale[j] }, scaled)
	var svd mat.SVD
	if !svd.Factorize(scaled, mat.SVDThin) {
		return fit{}, errNotSolved
	}
	var u, v mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	values := svd.Values(nil)
	f := fit{x: make([]float64, cols), unscaled: mat.NewSymDense(cols, nil)}
	for k, s := range values {
		if s <= rankTol*values[0] {
			break
		}
		f.rank++
		along := make([]float64, cols)
		for j := range cols {
			along[j] = v.At(j, k) / scale[j] / s
		}
		f.add(mat.Dot(u.ColView(k), mat.NewVecDense(rows, b)), along)
	}
	var residual mat.VecDense
	residual.MulVec(a, mat.NewVecDense(cols, f.x))
	residual.SubVec(&residual, mat.NewVecDense(rows, b))
	f.rss = mat.Dot(&residual, &residual)
	return f, nil
}

// add takes one singular direction in: its coefficient and its vector.
func (f *fit) add(coefficient float64, along []float64) {
	for j, v := range along {
		f.x[j] += coefficient * v
	}
	f.unscaled.SymRankOne(f.unscaled, 1, mat.NewVecDense(len(along), along))
}

// rows gathers weighted equations for leastSquares.
type rows struct {
	width int
	a, b  []float64
}

// add takes the equation coefficients·x = value, of standard uncertainty u.
func (r *rows) add(coefficients []float64, value, u float64) {
	for _, c := range coefficients {
		r.a = append(r.a, c/u)
	}
	r.b = append(r.b, value/u)
}

// addPair takes two equations with a common covariance: they are made
// independent by the inverse of its Cholesky factor.
func (r *rows) addPair(coefficients [2][]float64, value [2]float64, cov [2][2]float64) {
	l := math.Sqrt(cov[0][0])
	m := cov[0][1] / l
	n := math.Sqrt(cov[1][1] - m*m)
	r.add(coefficients[0], value[0], l)
	second := make([]float64, r.width)
	for i := range second {
		second[i] = coefficients[1][i] - m/l*coefficients[0][i]
	}
	r.add(second, value[1]-m/l*value[0], n)
}

func (r *rows) solve() (fit, error) {
	return leastSquares(mat.NewDense(len(r.b), r.width, r.a), r.b)
}
