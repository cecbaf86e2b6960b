package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
)

// plainer is the fit, or one that explains the same edges by a more usual
// camera. A target near the photo's corner may first settle on the tilt's
// mirror image, with a lens bent until it fits: the rings lie right then, but
// not what stands above them.
func (f *Fit) plainer() *Fit {
	if f.Circles() < 2 || square(f.prior()[:4]) < strained {
		return f
	}
	best, bestCost := f, f.misfit(f.spread)
	for _, g := range f.restarts() {
		if err := g.solve(4); err != nil || !g.sane() {
			continue
		}
		if cost := g.misfit(f.spread); cost < bestCost {
			best, bestCost = g, cost
		}
	}
	return best
}

// strained is the sum of squares, in standard uncertainties, of a camera's four
// departures from what is known, above which another is looked for. Right fits
// of simulated photos have 0 to 3, the mirror image of a tilt 3 to 150.
const strained = 2

// restarts are the poses in which the outer circle is seen where it is now by
// a camera as it is known, turned as the fit is.
func (f *Fit) restarts() []*Fit {
	const n = 60
	points := make([]conic.Point, n)
	for i := range points {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		points[i] = f.Pixel(c*f.Spec.OuterRadius(), s*f.Spec.OuterRadius())
	}
	el, err := conic.FitDirect(points)
	if err != nil {
		return nil
	}
	up := f.Pixel(0, f.Spec.OuterRadius())
	var out []*Fit
	for _, camera := range f.priors.cameras() {
		poses, err := conic.CirclePoses(el, camera.Focal, conic.Point{X: camera.X, Y: camera.Y}, f.Spec.OuterRadius())
		if err != nil {
			continue
		}
		for _, pose := range poses {
			g := f.clone()
			g.Camera, g.Pose = camera, posed(pose.Normal, pose.Centre)
			x, y := g.At(up, 0)
			g.Pose = g.Pose.Turned(math.Atan2(-x, y))
			out = append(out, g)
		}
	}
	return out
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
