package ring

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/stat"
)

var errFit = errors.New("the rings' fit does not settle")

// solve brings camera, pose and print to the least-squares optimum by
// Gauss-Newton steps with Levenberg's damping, reweighting as it goes
// (Tukey's biweight on each group's own scatter).
func (f *Fit) solve(rounds int) error {
	for range rounds {
		f.reweigh()
		if err := f.settle(4); err != nil {
			return err
		}
	}
	return nil
}

// settle minimises at fixed weights in at most so many steps: the weights
// change again before the last digits matter.
func (f *Fit) settle(most int) error {
	damping := 1e-6
	n, m := f.parameters(), len(f.traces)+4+len(f.off)
	r, r2 := make([]float64, m), make([]float64, m)
	f.residuals(r)
	for range most {
		jac := f.jacobian(m)
		var normal mat.SymDense
		normal.SymOuterK(1, jac.T())
		grad := mat.NewVecDense(n, nil)
		grad.MulVec(jac.T(), mat.NewVecDense(m, r))
		for i := range n { // a rotation no index fixes, or a parameter nothing measures, stays put
			normal.SetSym(i, i, normal.At(i, i)*(1+damping)+1e-6)
		}
		var chol mat.Cholesky
		if !chol.Factorize(&normal) {
			return errFit
		}
		step := mat.NewVecDense(n, nil)
		if err := chol.SolveVecTo(step, grad); err != nil && !isCondition(err) {
			return errFit
		}
		step.ScaleVec(-1, step)
		next := f.moved(step.RawVector().Data)
		next.residuals(r2)
		before, after := square(r), square(r2)
		if math.IsNaN(after) || after > before {
			if damping *= 30; damping > 1e6 {
				return nil // no step improves: settled as far as numbers allow
			}
			continue
		}
		f.Camera, f.Pose, f.off = next.Camera, next.Pose, next.off
		r, r2 = r2, r
		damping = max(1e-9, damping/10)
		if before-after < 1e-6*before {
			return nil
		}
	}
	return nil
}

func isCondition(err error) bool {
	var c mat.Condition
	return errors.As(err, &c)
}

func square(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x * x
	}
	return s
}

// residual is how far, in photo px, a trace lies from its curve.
func (f *Fit) residual(t trace) float64 {
	x, y := f.Camera.Plane(f.Pose, t.px)
	rings := len(f.Spec.RingsMM)
	switch t.kind {
	case lineFeature:
		return (math.Sqrt(x*x+y*y) - f.Spec.RingsMM[t.which]/2 - f.off[t.which]) * t.pxPerMM
	case rimFeature:
		return (math.Sqrt(x*x+y*y) - f.Spec.RimMM/2 - f.off[rings]) * t.pxPerMM
	default:
		return f.barSide(t.which, x, y) * t.pxPerMM
	}
}

// residuals of all traces, weighted by their groups' scatter, then the priors.
func (f *Fit) residuals(out []float64) {
	for i := range f.traces {
		out[i] = 0
		if f.scale[i] > 0 {
			out[i] = f.scale[i] * f.residual(f.traces[i])
		}
	}
	copy(out[len(f.traces):], f.prior())
}

// jacobian of residuals by central differences.
func (f *Fit) jacobian(m int) *mat.Dense {
	n := f.parameters()
	jac := mat.NewDense(m, n, nil)
	steps := f.steps()
	raster.InBands(n, func(from, to int) {
		a, b := make([]float64, m), make([]float64, m)
		d := make([]float64, n)
		for j := from; j < to; j++ {
			if j >= cameraParameters {
				f.offColumn(jac, j, m)
				continue
			}
			d[j] = steps[j]
			f.moved(d).residuals(a)
			d[j] = -steps[j]
			f.moved(d).residuals(b)
			d[j] = 0
			for i := range a {
				jac.Set(i, j, (a[i]-b[i])/(2*steps[j]))
			}
		}
	})
	return jac
}

// offColumn is the jacobian's column of one departure of the print: a circle's
// radius moves only its own traces, all alike; the bar's departures only the
// bar's.
func (f *Fit) offColumn(jac *mat.Dense, j, m int) {
	k, rings := j-cameraParameters, len(f.Spec.RingsMM)
	jac.Set(m-len(f.off)+k, j, 1/f.offU(k)) // its prior
	for i := range f.traces {
		t := &f.traces[i]
		switch {
		case f.scale[i] == 0:
		case t.kind == lineFeature && t.which == k, t.kind == rimFeature && k == rings:
			jac.Set(i, j, -t.pxPerMM*f.scale[i])
		case t.kind == indexFeature && k > rings:
			const step = 1e-5
			g := f.clone()
			g.off[k] += step
			a := g.residual(*t)
			g.off[k] -= 2 * step
			jac.Set(i, j, f.scale[i]*(a-g.residual(*t))/(2*step))
		}
	}
}

// leastSpread in px: below this, edges are placed no better whatever their
// scatter says (interpolation and 8-bit steps).
const leastSpread = 0.02

// reweigh sets each group's scatter and each trace's weight from the present
// residuals.
func (f *Fit) reweigh() {
	byGroup := map[group][]float64{}
	residuals := make([]float64, len(f.traces))
	for i, t := range f.traces {
		residuals[i] = f.residual(t)
		g := group{t.kind, t.which}
		byGroup[g] = append(byGroup[g], residuals[i])
	}
	f.spread = map[group]float64{}
	for g, r := range byGroup {
		abs := make([]float64, len(r)) // about zero, not about their own median: the curve is known
		for i, v := range r {
			abs[i] = math.Abs(v)
		}
		f.spread[g] = max(leastSpread, 1.4826*stat.Median(abs))
	}
	f.weights = make([]float64, len(f.traces))
	for i, t := range f.traces {
		f.weights[i] = stat.Tukey(residuals[i] / f.spread[group{t.kind, t.which}])
	}
	f.setScale()
}

func (f *Fit) setScale() {
	f.scale = make([]float64, len(f.traces))
	for i, t := range f.traces {
		f.scale[i] = math.Sqrt(f.weights[i]) / f.spread[group{t.kind, t.which}]
	}
}
