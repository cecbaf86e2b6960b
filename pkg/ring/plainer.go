package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/lens"
)

// plainer is the fit, or one that explains the same edges better, or as well by
// a more usual camera. A fit may first settle on the tilt's mirror image, above
// all in a photo's corner: the rings lie nearly right then, with a lens bent
// until they do, but not what stands above them. A thinned fit tells: between a
// tilt and its mirror image the misfits differ by far more than thinning changes
// them. The choice need not be made once more on all edges. Where a start has
// only come back to the tilt that was there, all edges bring it back to the fit
// that was there: in the five such of 127 fits of simulated photos within 0.3
// degrees and 0.006 mm.
func (f *Fit) BetterTilt() *Fit {
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

// clearlyLess is the misfit, over that of the fit, from which on a restart is
// taken. In 127 fits of simulated photos mirror images of the right tilt had 2.4
// to 8.7 times its misfit, and the right tilt 0.28 to 0.5 times that of a fit that
// had settled on the mirror image. Ways back to the same tilt differ less, by 0.95
// to 1.01 as a rule: the bound keeps most of them from being solved once more, and
// those that pass it do no harm.
const clearlyLess = 0.98

// thinned is the fit with only some of its traces, spread evenly: enough to
// tell two tilts apart.
func (f *Fit) thinned() *Fit {
	const enough = 300 // of some thousand: 20 for each parameter of a target with four rings
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
// departures from what is known, above which the camera itself is in doubt and
// the known ones are tried. By chance alone it would be 4 in the mean, but edges
// hold a camera loosely, and what holds it is what is known: of 124 right tilts in
// simulated photos 116 have 0 to 1.8, seven 2 to 4.2 and one 17, and three fits that
// had settled on the mirror image 34 to 67. Of mirror images fitted on purpose two
// in seven stay below: those need no other camera, but the other pose, which is
// tried anyway.
const strained = 2

// restarts are the other poses in which the outer circle is seen where it is
// now, turned as the fit is: by the camera as it has been found, or, where that
// is in doubt, by those that are known.
func (f *Fit) restarts() []*Fit {
	el, err := f.outerEllipse(f.Camera)
	if err != nil {
		return nil
	}
	cameras := []lens.Camera{f.Camera}
	if square(f.prior()[:4]) > strained {
		cameras = f.priors.Cameras()
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
			g.Camera, g.Pose = camera, lens.NewPose(pose.Normal, pose.Centre)
			if camera == f.Camera && g.Pose.AngleTo(f.Pose) < leastTurn {
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
func (f *Fit) outerEllipse(camera lens.Camera) (conic.Ellipse, error) {
	const n = 60
	points := make([]conic.Point, n)
	for i := range points {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		points[i] = camera.Project(f.Pose, c*f.Spec.OuterRadius(), s*f.Spec.OuterRadius())
	}
	return conic.FitDirect(points)
}

// leastTurn in radians: a pose that turns less than this from the present one is
// the present one, read back from its own ellipse. In right fits of simulated
// photos that one lies within 1.6 degrees, the mirror image 2.4 to 84 degrees off.
const leastTurn = 2 * math.Pi / 180
