package conic

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// curve is a family of curves, told by parameters, beside a set of points.
type curve interface {
	// residuals calls row with each point's signed distance from the curve and
	// its derivatives by the parameters. False: no such curve.
	residuals(p []float64, row func(d float64, slope []float64)) bool
}

// Bounds of the search. 1b of the tests, a flat minimum, takes 30 steps.
const (
	mostSteps  = 200
	smallStep  = 1e-11 // relative to the points' size
	mostDamped = 1e12  // no step helps: the minimum is reached to rounding
	runaway    = 1e3   // parameters this many times the points' size: fled
)

// descend is Levenberg's and Marquardt's method: Gauss-Newton steps, damped as
// far as it takes for each to lower the sum of squares. The points are of size
// 1 round the origin; p is the start and becomes the result.
func descend(c curve, p []float64) error {
	damping := 1e-3
	n := newNormal(c, p)
	for range mostSteps {
		step, ok := n.step(damping)
		trial := make([]float64, len(p))
		for i := range p {
			trial[i] = p[i] + step[i]
		}
		if largest(trial) > runaway {
			return ErrShortArc
		}
		next := newNormal(c, trial)
		small := ok && largest(step) < smallStep
		if ok && next.sum <= n.sum {
			copy(p, trial)
			n, damping = next, max(damping/10, 1e-15)
		} else {
			damping *= 10
		}
		if small || damping > mostDamped {
			return nil
		}
	}
	return ErrNotConverged
}

// normal is the normal equations of one Gauss-Newton step.
type normal struct {
	matrix   *mat.SymDense
	gradient []float64
	sum      float64 // of squares; +Inf where there is no such curve
}

// newNormal sums them up at p.
func newNormal(c curve, p []float64) normal {
	n := normal{mat.NewSymDense(len(p), nil), make([]float64, len(p)), 0}
	a := n.matrix.RawSymmetric()
	ok := c.residuals(p, func(d float64, slope []float64) {
		n.sum += d * d
		for i, s := range slope {
			n.gradient[i] -= d * s
			for j := i; j < len(slope); j++ {
				a.Data[i*a.Stride+j] += s * slope[j]
			}
		}
	})
	if !ok || math.IsNaN(n.sum) {
		n.sum = math.Inf(1)
	}
	return n
}

// step solves them with the diagonal raised by the damping.
func (n normal) step(damping float64) ([]float64, bool) {
	size := len(n.gradient)
	damped := mat.NewSymDense(size, nil)
	damped.CopySym(n.matrix)
	trace := mat.Trace(n.matrix)
	for i := range size {
		// A share of the trace holds directions that the points do not see.
		damped.SetSym(i, i, n.matrix.At(i, i)*(1+damping)+1e-16*damping*trace)
	}
	step := make([]float64, size)
	var chol mat.Cholesky
	if !chol.Factorize(damped) {
		return step, false
	}
	err := chol.SolveVecTo(mat.NewVecDense(size, step), mat.NewVecDense(size, n.gradient))
	if _, poor := err.(mat.Condition); err != nil && !poor {
		return step, false
	}
	return step, true
}

// largest is the largest size of an entry.
func largest(v []float64) float64 {
	var m float64
	for _, x := range v {
		m = max(m, math.Abs(x))
	}
	return m
}
