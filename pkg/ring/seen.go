package ring

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/conic"
)

// Seen is one circle the fit rests on.
type Seen struct {
	DiameterMM float64
	Arc        float64 // fraction of the circle
	RMSPx      float64 // of the edge points that count, photo px
}

// Seen lists the rings, and the rim, that the fit rests on.
func (f *Fit) Seen() []Seen {
	var out []Seen
	add := func(g group, diameter float64) {
		sum, n := 0.0, 0.0
		for i, t := range f.traces {
			if t.kind == g.kind && t.which == g.which && f.weights[i] > 0 {
				r := f.residual(t)
				sum += f.weights[i] * r * r
				n += f.weights[i]
			}
		}
		if n > 0 {
			out = append(out, Seen{diameter, f.seen(g), math.Sqrt(sum / n)})
		}
	}
	for k, d := range f.Spec.RingsMM {
		add(group{lineFeature, k}, d)
	}
	if f.Spec.RimMM > 0 {
		add(group{rimFeature, 0}, f.Spec.RimMM)
	}
	return out
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
