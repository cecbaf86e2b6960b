package ring

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/stat"
	"burngauge.dev/burngauge/pkg/target"
)

// Fit is the target plane as one least-squares fit to all traced edges sees it.
//
// The homography from plane to photo is parametrised as a camera and a pose:
// everything that rings and index determine is found freely, and what they
// leave open (one ring leaves the perspective open) is held by what is known
// of phone cameras, with that knowledge's own uncertainty.
type Fit struct {
	Spec   target.Spec
	Camera Camera
	Pose   Pose    // mm
	Sign   float64 // -1: lines darker than what they are printed on, +1: lighter

	raster  *Raster
	looked  map[group]int   // places looked at, of each curve
	noise   map[int]float64 // slope of noise and texture about each ring
	priors  Priors
	off     []float64 // departures of the print from the spec: each ring's radius, the rim's, then the index bar's (see barParameters)
	traces  []trace
	weights []float64 // of each trace, 0..1
	scale   []float64 // of each trace: root of its weight over its group's scatter, 1/px
	spread  map[group]float64
	cov     *mat.SymDense // of all parameters
	sparse  bool          // trace at every third place
	stepU   float64       // mm, stepBiasPx at this scale
	reach   float64       // mm, how far the last trace looked
	Indexed bool          // the index bar was seen and is part of the fit
}

// Priors is what is known of the camera before the target is looked at.
type Priors struct {
	Camera     Camera
	LogFocalU  float64 // standard uncertainty of the focal length's logarithm
	PrincipalU float64 // px
	K1U        float64
}

// Standard uncertainties of what is known of phone cameras. The focal length
// in EXIF is rounded to whole millimetres (1.9 % at 26 mm) and off by 8 % for
// pictures cropped to 16:9; without EXIF main lenses of phones lie between 22
// and 30 mm, second lenses at 50 to 80. Distortion is corrected in the phone
// to some per cent of the half diagonal. Common practice, no source.
const (
	focalKnownU      = 0.05
	focalUnknownU    = 0.25
	focalUnknown     = 27.0 // mm, 35 mm equivalent
	principalU       = 0.01 // of the diagonal
	principalOpenU   = 0.05
	distortionU      = 0.03
	diagonal35       = 43.266615 // mm, of the 36 x 24 mm frame
	barParameters    = 5
	cameraParameters = 10
)

// newPriors says what is known of the camera that took the photo.
func newPriors(ph *photo.Photo) Priors {
	diagonal := math.Hypot(float64(ph.Image.Width), float64(ph.Image.Height))
	p := Priors{
		Camera: Camera{
			Focal: focalUnknown / diagonal35 * diagonal,
			X:     float64(ph.Image.Width-1) / 2, Y: float64(ph.Image.Height-1) / 2,
			HalfDiagonal: diagonal / 2,
		},
		LogFocalU: focalUnknownU, PrincipalU: principalOpenU * diagonal, K1U: distortionU,
	}
	if focal, ok := ph.FocalPx(); ok {
		p.Camera.Focal, p.LogFocalU, p.PrincipalU = focal, focalKnownU, principalU*diagonal
	}
	return p
}

// group is a set of traces that share one scatter.
type group struct {
	kind  feature
	which int
}

// PxPerMM is the photo's scale at the rings' centre: the geometric mean over
// directions.
func (f *Fit) PxPerMM() float64 {
	const d = 0.05 // mm
	a, b := f.Camera.Project(f.Pose, d, 0), f.Camera.Project(f.Pose, -d, 0)
	c, e := f.Camera.Project(f.Pose, 0, d), f.Camera.Project(f.Pose, 0, -d)
	det := (a.X-b.X)*(c.Y-e.Y) - (a.Y-b.Y)*(c.X-e.X)
	return math.Sqrt(math.Abs(det)) / (2 * d)
}

// clone is a copy whose state may be changed; traces and weights are shared.
func (f *Fit) clone() *Fit {
	g := *f
	g.off = append([]float64(nil), f.off...)
	return &g
}

func (f *Fit) parameters() int { return cameraParameters + len(f.off) }

// moved is the fit's state after the parameters change by d.
func (f *Fit) moved(d []float64) *Fit {
	g := f.clone()
	g.Pose = f.Pose.rotated([3]float64{d[0], d[1], d[2]})
	for i := range 3 {
		g.Pose.T[i] += d[3+i] * f.Pose.T[2]
	}
	g.Camera.Focal *= math.Exp(d[6])
	g.Camera.X += d[7]
	g.Camera.Y += d[8]
	g.Camera.K1 += d[9]
	for i := range g.off {
		g.off[i] += d[cameraParameters+i]
	}
	return g
}

// steps are the parameter changes for numerical derivatives: each moves edges
// by a small part of a pixel.
func (f *Fit) steps() []float64 {
	s := make([]float64, f.parameters())
	for i := range s {
		s[i] = 1e-5
	}
	s[7], s[8] = 0.1, 0.1 // px
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

// prior lists the weighted departures from what is known: (value - known) / u.
func (f *Fit) prior() []float64 {
	p, c := f.priors, f.Camera
	out := []float64{
		math.Log(c.Focal/p.Camera.Focal) / p.LogFocalU,
		(c.X - p.Camera.X) / p.PrincipalU,
		(c.Y - p.Camera.Y) / p.PrincipalU,
		c.K1 / p.K1U,
	}
	for i, v := range f.off {
		out = append(out, v/f.offU(i))
	}
	return out
}

// offU is the standard uncertainty of one departure of the print from the
// spec, mm or radians. Where a step is traced and not a line, tone curve and
// sharpening in the phone move it to one side by part of a pixel, which looks
// like a larger or smaller rim or bar.
func (f *Fit) offU(i int) float64 {
	u := max(f.Spec.RingsUMM, 1e-4)
	switch bar := i - len(f.Spec.RingsMM) - 1; {
	case bar < -1:
		return u / 2 // of a ring's radius
	case bar == 2:
		return u / (f.Spec.Index.ToMM - f.Spec.Index.FromMM) // of the bar's direction
	case bar == -1, bar > 2:
		return math.Hypot(u/2, f.stepU) // of the rim's radius, the bar's half width and half length
	default:
		return u / 2 // of the bar's place
	}
}

// stepBiasPx is how far a step may be moved so, photo px: seen in simulated
// photos with sharpening.
const stepBiasPx = 0.4

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

// jacobian of residuals by central differences.
func (f *Fit) jacobian(m int) *mat.Dense {
	n := f.parameters()
	jac := mat.NewDense(m, n, nil)
	steps := f.steps()
	inBands(n, func(from, to int) {
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

// rollU is how well, in radians, a photo's top is the target's top when
// someone says it is: two degrees by eye. Common practice, no source.
const rollU = 2 * math.Pi / 180

// covariance of all parameters at the optimum. Neighbouring places on a ring
// share blur, texture and lens, so each group's information is divided by how
// long its residuals stay alike (JCGM 100 asks that correlation be counted).
func (f *Fit) covariance() error {
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

// At maps a pixel to the target (right, up, mm) at a height above the rings'
// plane (mm, towards the camera): the tape's surface.
func (f *Fit) At(px conic.Point, height float64) (right, up float64) {
	lifted := f.Pose
	for i := range 3 {
		lifted.T[i] += height * f.Pose.R[i][2]
	}
	return f.Camera.Plane(lifted, px)
}

// Pixel maps a place on the target (right, up, mm) to the upright photo.
func (f *Fit) Pixel(right, up float64) conic.Point { return f.Camera.Project(f.Pose, right, up) }

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

// Surface is a plane that lies over the rings' plane, as the camera sees it.
type Surface struct {
	camera Camera
	pose   Pose
}

// Tape is the tape's surface.
func (f *Fit) Tape() Surface {
	lifted := f.Pose
	for i := range 3 {
		lifted.T[i] += f.Spec.TapeMM * f.Pose.R[i][2]
	}
	return Surface{f.Camera, lifted}
}

// Pixel maps a place on the surface (right, up, mm) to the photo.
func (s Surface) Pixel(right, up float64) conic.Point {
	return s.camera.Project(s.pose, right, up)
}

// Raised maps a place on the tape's surface (right, up, mm) to the photo.
func (f *Fit) Raised(right, up float64) conic.Point { return f.Tape().Pixel(right, up) }

// Softness is how much wider than its nominal width a line is between its
// flanks, at least 1.
func (f *Fit) Softness() float64 {
	var widths []float64
	for _, t := range f.traces {
		if t.kind == lineFeature {
			widths = append(widths, t.widthMM)
		}
	}
	if len(widths) == 0 {
		return 1
	}
	return max(1, stat.Median(widths)/f.Spec.LineMM)
}
