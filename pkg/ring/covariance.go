package ring

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/coverage"
)

// degreesSquared is (180/π)², of a squared angle.
const degreesSquared = 180 * 180 / (math.Pi * math.Pi)

// SetCovariance computes the covariance of all parameters at the optimum: the
// inverse of the Fisher information JᵀJ, J the derivatives of residuals in standard
// deviations (edges by their scatter, what is known by its uncertainty).
//
// Neighbouring places on a ring share blur, texture and lens, so each curve's
// information is divided by how long its residuals stay alike (inflation; JCGM 100,
// 5.2 asks that correlation be counted). Without an index bar the photo's top stands
// for the target's, as well as someone holds a phone.
func (f *Fit) SetCovariance() error {
	inflation := f.inflation()
	spread := map[group]float64{}
	for g, s := range f.spread {
		spread[g] = s * math.Sqrt(inflation[g])
	}
	jac := f.jacobian(f.scales(spread))
	var info mat.SymDense
	info.SymOuterK(1, jac.T())
	for i := range f.layout().size() {
		info.SetSym(i, i, info.At(i, i)+f.set.Ridge)
	}
	if !f.Indexed {
		held := degreesSquared / (f.set.RollDeg * f.set.RollDeg)
		info.SetSym(int(turnFacing), int(turnFacing), info.At(int(turnFacing), int(turnFacing))+held)
	}
	cov, ok := inverse(&info)
	if !ok {
		return errFit
	}
	f.cov = cov
	return nil
}

// inverse of a positive definite matrix by its Cholesky factor; not ok for one that is
// not. That it is nearly singular is no failure: a direction that nothing measures has
// a variance that says so.
func inverse(a *mat.SymDense) (*mat.SymDense, bool) {
	var chol mat.Cholesky
	if !chol.Factorize(a) {
		return nil, false
	}
	out := mat.NewSymDense(a.SymmetricDim(), nil)
	if err := chol.InverseTo(out); err != nil && !isCondition(err) {
		return nil, false
	}
	return out, true
}

// Covariance is that of the place on the target which a fixed pixel shows at a
// height above the rings' plane (right, up, mm²), from the fit alone. SetCovariance
// must have been called.
func (p *problem) Covariance(px conic.Point, height float64) [2][2]float64 {
	return p.placeCovariance(px, height, p.cov)
}

// placeCovariance takes a covariance V of the parameters to the place a pixel
// shows: G V Gᵀ with the place's derivatives G by the parameters (JCGM 100, 5.2.2),
// by central differences.
func (m *model) placeCovariance(px conic.Point, height float64, cov mat.Symmetric) [2][2]float64 {
	n := m.layout().size()
	jac := mat.NewDense(2, n, nil)
	steps, d := m.steps(), make([]float64, n)
	for j := range n {
		d[j] = steps[j]
		more := m.moved(d)
		x1, y1 := more.At(px, height)
		d[j] = -steps[j]
		less := m.moved(d)
		x0, y0 := less.At(px, height)
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
// split is sequential, with V(held) the place's covariance when some parameters are
// held where they are:
//
//	edges   V(camera, print)
//	print   V(camera) - V(camera, print)
//	camera  V() - V(camera)
//
// Holding a parameter never adds variance, so no part is negative, and the three add
// up to the whole. The order matters: what two sources have in common goes to the one
// that is freed later, here to the camera.
func (p *problem) Parts(px conic.Point, height float64) []Part {
	l := p.layout()
	camera := l.between(firstKnown, firstDeparture)
	print := l.between(firstDeparture, l.end())
	edges := p.placeCovariance(px, height, conditional(p.cov, append(camera, print...)))
	noCamera := p.placeCovariance(px, height, conditional(p.cov, camera))
	whole := p.Covariance(px, height)
	return []Part{
		{"ring fit", "A", edges},
		{"print and scale", "B", less(noCamera, edges)},
		{"lens and perspective", "B", less(whole, noCamera)},
	}
}

// less is a - b, without variances below zero, which rounding may leave.
func less(a, b [2][2]float64) [2][2]float64 {
	for i := range 2 {
		for j := range 2 {
			a[i][j] -= b[i][j]
		}
		a[i][i] = max(a[i][i], 0)
	}
	return a
}

// noFreedom is information that lets a parameter no freedom: its variance is then
// far below every other, and still a number.
const noFreedom = 1e30

// conditional is the covariance of the parameters when some are held fixed: of a
// normal distribution the inverse of the information without their rows and columns
// (here decoupled and held instead, which gives the others the same). The whole
// covariance where it cannot be inverted.
func conditional(cov *mat.SymDense, fixed []parameter) *mat.SymDense {
	info, ok := inverse(cov)
	if !ok {
		return cov
	}
	for _, p := range fixed {
		for j := range cov.SymmetricDim() {
			info.SetSym(int(p), j, 0)
		}
		info.SetSym(int(p), int(p), noFreedom)
	}
	out, ok := inverse(info)
	if !ok {
		return cov
	}
	return out
}
