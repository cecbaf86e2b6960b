package ring

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/coverage"
)

// rollU is how well, in radians, a photo's top is the target's top when
// someone says it is: two degrees by eye. Common practice, no source.
const rollU = 2 * math.Pi / 180

// covariance of all parameters at the optimum. Neighbouring places on a ring
// share blur, texture and lens, so each group's information is divided by how
// long its residuals stay alike (JCGM 100 asks that correlation be counted).
func (f *Fit) SetCovariance() error {
	inflation := f.inflation()
	for g := range f.spread {
		f.spread[g] *= math.Sqrt(inflation[g])
	}
	f.setScale()
	defer func() {
		for g := range f.spread {
			f.spread[g] /= math.Sqrt(inflation[g])
		}
		f.setScale()
	}()
	jac := f.jacobian(len(f.traces) + 4 + len(f.off))
	var normal mat.SymDense
	normal.SymOuterK(1, jac.T())
	for i := range f.parameters() {
		normal.SetSym(i, i, normal.At(i, i)+1e-6)
	}
	if !f.Indexed { // the third turn is that about the target's facing direction
		normal.SetSym(2, 2, normal.At(2, 2)+1/(rollU*rollU))
	}
	var chol mat.Cholesky
	if !chol.Factorize(&normal) {
		return errFit
	}
	f.cov = mat.NewSymDense(f.parameters(), nil)
	if err := chol.InverseTo(f.cov); err != nil && !isCondition(err) {
		return errFit
	}
	return nil
}

// inflation is (1+r)/(1-r) for lag-one autocorrelation r along each curve: the
// factor by which the variance of a mean grows (an AR(1) model).
func (f *Fit) inflation() map[group]float64 {
	type sums struct{ lag, square float64 }
	by := map[group]sums{}
	for i := range f.traces {
		t := f.traces[i]
		g := group{t.kind, t.which}
		s := by[g]
		e := math.Sqrt(f.weights[i]) * f.residual(t)
		s.square += e * e
		if i > 0 && f.traces[i-1].kind == t.kind && f.traces[i-1].which == t.which {
			s.lag += e * math.Sqrt(f.weights[i-1]) * f.residual(f.traces[i-1])
		}
		by[g] = s
	}
	out := map[group]float64{}
	for g, s := range by {
		r := 0.0
		if s.square > 0 {
			r = max(0, min(0.95, s.lag/s.square))
		}
		out[g] = (1 + r) / (1 - r)
	}
	return out
}

// Covariance is that of the place on the target which a fixed pixel shows
// (right, up, mm²), from the fit alone.
func (f *Fit) Covariance(px conic.Point, height float64) [2][2]float64 {
	return f.project(px, height, f.cov)
}

// project takes a covariance of the parameters to the place a pixel shows.
func (f *Fit) project(px conic.Point, height float64, cov mat.Symmetric) [2][2]float64 {
	n := f.parameters()
	jac := mat.NewDense(2, n, nil)
	steps, d := f.steps(), make([]float64, n)
	for j := range n {
		d[j] = steps[j]
		x1, y1 := f.moved(d).At(px, height)
		d[j] = -steps[j]
		x0, y0 := f.moved(d).At(px, height)
		d[j] = 0
		jac.Set(0, j, (x1-x0)/(2*steps[j]))
		jac.Set(1, j, (y1-y0)/(2*steps[j]))
	}
	u := coverage.Propagate(jac, cov)
	return [2][2]float64{{u.At(0, 0), u.At(0, 1)}, {u.At(1, 0), u.At(1, 1)}}
}

// Part is one source of the fit's uncertainty at a place on the photo.
type Part struct {
	Source     string
	Evaluation string        // A or B (JCGM 100, 3.3.5)
	Covariance [2][2]float64 // right, up, mm²
}

// Parts splits Covariance by where it comes from: the scatter of the edges
// (A), and what is taken from elsewhere (B): the camera, and the print. The
// split is sequential: what remains when camera and print are held fixed is
// the edges' share, what freeing the print adds is the print's, the rest is
// the camera's. The three add up to the whole.
func (f *Fit) Parts(px conic.Point, height float64) []Part {
	var hold, camera []int
	for i := 6; i < cameraParameters; i++ {
		hold = append(hold, i)
		camera = append(camera, i)
	}
	for i := range f.off {
		hold = append(hold, cameraParameters+i)
	}
	edges := f.project(px, height, f.conditional(hold))
	noCamera := f.project(px, height, f.conditional(camera))
	whole := f.Covariance(px, height)
	return []Part{
		{"ring fit", "A", edges},
		{"print and scale", "B", less(noCamera, edges)},
		{"lens and perspective", "B", less(whole, noCamera)},
	}
}

func less(a, b [2][2]float64) [2][2]float64 {
	for i := range 2 {
		for j := range 2 {
			a[i][j] -= b[i][j]
		}
		a[i][i] = max(a[i][i], 0)
	}
	return a
}

// conditional is the covariance of the parameters when some are held fixed:
// the inverse of the information without their rows and columns.
func (f *Fit) conditional(fixed []int) *mat.SymDense {
	n := f.parameters()
	var chol mat.Cholesky
	if !chol.Factorize(f.cov) {
		return f.cov
	}
	var info mat.SymDense
	if err := chol.InverseTo(&info); err != nil && !isCondition(err) {
		return f.cov
	}
	for _, i := range fixed {
		for j := range n {
			info.SetSym(i, j, 0)
		}
		info.SetSym(i, i, 1e30) // no freedom left
	}
	out := mat.NewSymDense(n, nil)
	if !chol.Factorize(&info) {
		return f.cov
	}
	if err := chol.InverseTo(out); err != nil && !isCondition(err) {
		return f.cov
	}
	return out
}
