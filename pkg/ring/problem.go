package ring

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/raster"
)

var errFit = errors.New("the rings' fit does not settle")

// The sum that is minimised is S(p) = Σ sᵢ² eᵢ(p)² + Σ ((pⱼ - kⱼ)/uⱼ)²: the edges'
// residuals e at their scales s = √w/σ, and the parameters' departures from what is
// known. Written as one vector r(p) of residuals in standard deviations it is |r|².

// problem is the model with the edges that it is fitted to: a weighted nonlinear
// least-squares problem. Its equations are one for each trace, then one for each
// parameter of which something is known.
type problem struct {
	model
	traces  []trace
	weights []float64         // of each trace, 0..1 (Tukey's biweight)
	spread  map[group]float64 // scatter of each curve's edges, photo px
	scale   []float64         // of each trace: root of its weight over its curve's scatter, 1/px
	cov     *mat.SymDense     // of all parameters; nil before SetCovariance
}

// solve brings camera, pose and print to the optimum: so many rounds of weights
// from the present residuals, then steps at those weights (iteratively reweighted
// least squares).
func (p *problem) solve(rounds int) error {
	for range rounds {
		p.reweigh()
		if err := p.settle(); err != nil {
			return err
		}
	}
	return nil
}

// settle minimises at fixed weights in a few steps: the weights change again before
// the last digits matter. With the residuals r and their derivatives J a
// Gauss-Newton step d solves JᵀJ d = -Jᵀr; Levenberg's damping λ makes the diagonal
// (1 + λ) times as large, which turns the step towards steepest descent and shortens
// it (K. Levenberg, Q. Appl. Math. 2 (1944) 164; scaled by the diagonal as D. W.
// Marquardt, J. SIAM 11 (1963) 431). A step that makes the sum larger is not taken,
// and λ grows; one that is taken lets it fall.
func (p *problem) settle() error {
	damping := p.set.FirstDamping
	m := p.equations()
	r, r2 := make([]float64, m), make([]float64, m)
	p.residuals(&p.model, p.scale, r)
	for range p.set.Steps {
		step, err := p.step(r, damping)
		if err != nil {
			return err
		}
		next := p.moved(step)
		p.residuals(&next, p.scale, r2)
		before, after := square(r), square(r2)
		if math.IsNaN(after) || after > before {
			if damping *= p.set.DampingUp; damping > p.set.MostDamping {
				return nil // no step improves: settled as far as numbers allow
			}
			continue
		}
		p.model = next
		r, r2 = r2, r
		damping = max(p.set.LeastDamping, damping/p.set.DampingDown)
		if before-after < p.set.Settled*before {
			return nil
		}
	}
	return nil
}

// step solves the damped normal equations for the residuals r, by Cholesky's factor:
//
//	(JᵀJ + λ diag(JᵀJ) + ρ 1) d = -Jᵀr
//
// The small constant ρ on the diagonal keeps a rotation that no index fixes, or a
// parameter that nothing measures, where it is. The matrix is positive definite then;
// that it is not means that a residual is not a number.
func (p *problem) step(r []float64, damping float64) ([]float64, error) {
	n := p.layout().size()
	jac := p.jacobian(p.scale)
	var normal mat.SymDense
	normal.SymOuterK(1, jac.T())
	grad := mat.NewVecDense(n, nil)
	grad.MulVec(jac.T(), mat.NewVecDense(len(r), r))
	for i := range n {
		normal.SetSym(i, i, normal.At(i, i)*(1+damping)+p.set.Ridge)
	}
	var chol mat.Cholesky
	if !chol.Factorize(&normal) {
		return nil, errFit
	}
	step := mat.NewVecDense(n, nil)
	if err := chol.SolveVecTo(step, grad); err != nil && !isCondition(err) {
		return nil, errFit
	}
	step.ScaleVec(-1, step)
	return step.RawVector().Data, nil
}

// isCondition says whether an error of gonum only warns that digits were lost.
func isCondition(err error) bool {
	var c mat.Condition
	return errors.As(err, &c)
}

// square is the sum of squares.
func square(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x * x
	}
	return s
}

// equations is how many the problem has: traces, then what is known.
func (p *problem) equations() int { return len(p.traces) + p.layout().known() }

// knownRow is the equation of what is known of one parameter.
func (p *problem) knownRow(q parameter) int { return len(p.traces) + int(q-firstKnown) }

// Of the parameters' equations each is (value - known)/u, whose derivative by its own
// parameter is 1/u and by every other one 0.

// residuals of a model at the problem's edges, each times its scale, then the
// strains of what is known: all in standard deviations. A trace of scale 0 counts
// for nothing, even where its residual is not a number.
func (p *problem) residuals(m *model, scale, out []float64) {
	for i := range p.traces {
		out[i] = 0
		if scale[i] > 0 {
			out[i] = scale[i] * m.residual(p.traces[i])
		}
	}
	copy(out[len(p.traces):], m.strains())
}

// jacobian is the residuals' derivatives by the parameters, at these scales of
// the traces: by central differences (r(p+h) - r(p-h))/2h for pose and camera, whose
// error goes with h². Each column is its own, so that two threads may share them.
func (p *problem) jacobian(scale []float64) *mat.Dense {
	n, m := p.layout().size(), p.equations()
	jac := mat.NewDense(m, n, nil)
	steps := p.steps()
	raster.InBands(n, func(from, to int) {
		a, b := make([]float64, m), make([]float64, m)
		d := make([]float64, n)
		for j := from; j < to; j++ {
			if parameter(j) >= firstDeparture {
				p.departureColumn(jac, parameter(j), scale)
				continue
			}
			d[j] = steps[j]
			more := p.moved(d)
			p.residuals(&more, scale, a)
			d[j] = -steps[j]
			less := p.moved(d)
			p.residuals(&less, scale, b)
			d[j] = 0
			for i := range a {
				jac.Set(i, j, (a[i]-b[i])/(2*steps[j]))
			}
		}
	})
	return jac
}

// departureColumn is the jacobian's column of one departure of the print. A
// circle's radius moves only its own traces, all alike: ∂e/∂δ = -scale. The bar's
// departures move only the bar's, by central differences.
func (p *problem) departureColumn(jac *mat.Dense, q parameter, scale []float64) {
	l, step := p.layout(), p.set.DerivativeStep
	jac.Set(p.knownRow(q), int(q), 1/p.departureU(q))
	more := p.departed(q, step)
	less := p.departed(q, step, -2*step)
	for i := range p.traces {
		t := &p.traces[i]
		switch {
		case scale[i] == 0:
		case t.kind == lineFeature && q == l.ring(t.which), t.kind == rimFeature && q == l.rim():
			jac.Set(i, int(q), -t.pxPerMM*scale[i])
		case t.kind == indexFeature && l.isBar(q):
			jac.Set(i, int(q), scale[i]*(more.residual(*t)-less.residual(*t))/(2*step))
		}
	}
}
