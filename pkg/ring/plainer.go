package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
)

// plainer is the fit, or one that explains the same edges better, or as well by
// a more usual camera. A fit may first settle on the tilt's mirror image, above
// all in a photo's corner: the rings lie nearly right then, with a lens bent
// until they do, but not what stands above them. A thinned fit tells.
func (f *Fit) plainer() *Fit {
	if f.Circles() < 2 {
		return f
	}
	thin := f.thinned()
	best, bestCost := (*Fit)(nil), thin.misfit(f.spread)
	for _, g := range thin.restarts() {
		if err := g.solve(3); err != nil || !g.sane() {
			continue
		}
		if cost := g.misfit(f.spread); cost < clearlyLess*bestCost {
			best, bestCost = g, cost
		}
	}
	if best == nil {
		return f
	}
	better := f.clone()
	better.Camera, better.Pose, better.off = best.Camera, best.Pose, best.off
	if err := better.solve(3); err != nil || !better.sane() {
		return f
	}
	return better
}

// clearlyLess: two ways to the same optimum differ by less than this.
const clearlyLess = 0.98

// thinned is the fit with only some of its traces, spread evenly: enough to
// tell two tilts apart.
func (f *Fit) thinned() *Fit {
	const enough = 300
	step := max(1, len(f.traces)/enough)
	g := f.clone()
	g.traces = nil
	for i := 0; i < len(f.traces); i += step {
		g.traces = append(g.traces, f.traces[i])
	}
	g.weights, g.scale = nil, nil
	return g
}

// strained is the sum of squares, in standard uncertainties, of a camera's four
// departures from what is known, above which the camera itself is in doubt.
// Right fits of simulated photos have 0 to 3, mirror images often more.
const strained = 2

// restarts are the other poses in which the outer circle is seen where it is
// now, turned as the fit is: by the camera as it has been found, or, where that
// is in doubt, by those that are known.
func (f *Fit) restarts() []*Fit {
	el, err := f.outerEllipse(f.Camera)
	if err != nil {
		return nil
	}
	cameras := []Camera{f.Camera}
	if square(f.prior()[:4]) > strained {
		cameras = f.priors.cameras()
	}
	up := f.Pixel(0, f.Spec.OuterRadius())
	var out []*Fit
	for _, camera := range cameras {
		poses, err := conic.CirclePoses(el, camera.Focal, conic.Point{X: camera.X, Y: camera.Y}, f.Spec.OuterRadius())
		if err != nil {
			continue
		}
		for _, pose := range poses {
			g := f.clone()
			g.Camera, g.Pose = camera, posed(pose.Normal, pose.Centre)
			if camera == f.Camera && g.Pose.facing(f.Pose) < leastTurn {
				continue
			}
			x, y := g.At(up, 0)
			g.Pose = g.Pose.Turned(math.Atan2(-x, y))
			out = append(out, g)
		}
	}
	return out
}

// outerEllipse is the image of the outer circle that a camera gives.
func (f *Fit) outerEllipse(camera Camera) (conic.Ellipse, error) {
	const n = 60
	points := make([]conic.Point, n)
	for i := range points {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		points[i] = camera.Project(f.Pose, c*f.Spec.OuterRadius(), s*f.Spec.OuterRadius())
	}
	return conic.FitDirect(points)
}

// leastTurn in radians: a pose nearer than this to the present one is that one.
const leastTurn = 2 * math.Pi / 180

// facing is the angle between two poses' facing directions.
func (p Pose) facing(q Pose) float64 {
	var dot float64
	for i := range 3 {
		dot += p.R[i][2] * q.R[i][2]
	}
	return math.Acos(max(-1, min(1, dot)))
}

// cameras are those that the fit may start from: the one known from EXIF, or
// the main lens of a phone and its longer ones.
func (p Priors) cameras() []Camera {
	if p.LogFocalU < focalUnknownU {
		return []Camera{p.Camera}
	}
	var out []Camera
	for _, focal35 := range []float64{focalUnknown, 50, 75} {
		c := p.Camera
		c.Focal *= focal35 / focalUnknown
		out = append(out, c)
	}
	return out
}
