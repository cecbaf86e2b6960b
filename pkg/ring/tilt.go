package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/lens"
)

// BetterTilt is the fit, or one with another tilt that explains the same edges
// better, or as well by a more usual camera.
//
// A circle seen as an ellipse has two poses, one the mirror image of the other in
// the line of sight. Several circles show which one is right, by how their centres
// lie apart, but in a photo's corner a lens may be bent until they lie nearly right
// in the wrong one as well: a fit may settle there. What stands above the rings then
// shifts the wrong way. So the fit is begun once more from the other poses.
//
// A thinned fit shows it: between a tilt and its mirror image the misfits differ by
// far more than thinning changes them. Where a start has only come back to the tilt
// that was there, all edges bring it back to the fit that was there, so that the
// choice need not be made once more on all of them.
func (f *Fit) BetterTilt() *Fit {
	if f.Circles() < 2 {
		return f
	}
	thin := f.thinned()
	strained := f.Log.Above("ring.MostCameraStrain", thin.cameraStrain(), f.set.MostCameraStrain, "the known cameras are tried")
	best, bestCost := (*Fit)(nil), thin.misfit(f.spread)
	for _, g := range thin.restarts(strained) {
		if err := g.solve(f.set.TiltRounds); err != nil || !g.sane() {
			continue
		}
		cost := g.misfit(f.spread)
		log := g.about(f.Log, "another tilt")
		if log.Below("ring.ClearlyLess", cost/bestCost, f.set.ClearlyLess, "this tilt instead") {
			best, bestCost = g, cost
		}
	}
	if best == nil {
		return f
	}
	better := *f
	better.Camera, better.Pose, better.print = best.Camera, best.Pose, best.print
	if err := better.solve(f.set.TiltRounds); err != nil || !better.sane() {
		return f
	}
	return &better
}

// thinned is the fit, on trial, with only some of its traces, spread evenly: enough
// to distinguish two tilts.
func (f *Fit) thinned() *Fit {
	step := max(1, len(f.traces)/f.set.EnoughTraces)
	g := f.trial()
	g.traces = nil
	for i := 0; i < len(f.traces); i += step {
		g.traces = append(g.traces, f.traces[i])
	}
	g.weights, g.scale = nil, nil
	return g
}

// A start's roll is not in the ellipse: it is turned about the target's facing direction
// until the place that showed the target's up, at the outer ring's top, shows it again.

// restarts are the other poses in which the outer circle is seen where it is
// now, turned as the fit is: by the camera as it has been found, or, where that
// is in doubt, by those that are known.
func (f *Fit) restarts(strained bool) []*Fit {
	el, err := f.outerEllipse(f.Camera)
	if err != nil {
		return nil
	}
	cameras := []lens.Camera{f.Camera}
	if strained {
		cameras = f.priors.Cameras()
	}
	up := f.Pixel(0, f.Spec.OuterRadius())
	var out []*Fit
	for _, camera := range cameras {
		for _, pose := range f.circlePoses(el, camera) {
			if camera == f.Camera && pose.AngleTo(f.Pose)*180/math.Pi < f.set.LeastTurnDeg {
				continue
			}
			g := f.trial()
			g.Camera, g.Pose = camera, pose
			x, y := g.At(up, 0)
			g.Pose = g.Pose.Turned(math.Atan2(-x, y))
			out = append(out, g)
		}
	}
	return out
}
