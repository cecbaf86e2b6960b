package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/lens"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/target"
)

// Fit is the target plane as one least-squares fit to all traced edges sees it
// (see the package's documentation for the model). A copy shares what it does not
// change: maps and slices are replaced and never written to once another may hold
// them.
type Fit struct {
	Evidence
	Indexed bool // the index bar was seen and is part of the fit
}

// Start is a fit before anything is traced: the spec's rings where the pose (mm)
// has them before the camera that is known, their lines lighter than what they
// are printed on (sign +1) or darker (-1). The print is as the spec says until edges say
// otherwise. It works by DefaultSettings.
func Start(spec target.Spec, priors lens.Priors, pose lens.Pose, sign float64) *Fit {
	f := &Fit{}
	f.Sign = sign
	f.Plane = Plane{Spec: spec, Camera: priors.Camera, Pose: pose}
	f.priors = priors
	f.print = make([]float64, f.layout().departures())
	return f.WithSettings(DefaultSettings())
}

// WithSettings makes the fit work by other settings from here on: for whoever asks what
// a limit does.
func (f *Fit) WithSettings(set Settings) *Fit {
	f.set = &set
	return f
}

// trial is a copy that records nothing: only what comes of it is a decision. It is a
// plain copy, since the model is a value and the edges' lists are replaced as a whole.
func (f *Fit) trial() *Fit {
	g := *f
	g.Log = nil
	return &g
}

// On is the fit to be looked at on another cut-out of the photo.
func (f *Fit) On(r *raster.Raster) *Fit {
	f.raster = r
	return f
}

// Cut takes the part of the photo that the target is on, reduced by the largest
// whole factor that keeps a line LeastLinePx wide.
func (f *Fit) Cut(im photo.Image) {
	const n = 16 // places on a circle: between them it reaches 2 % farther at most
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for a := range n {
		s, c := math.Sincos(2 * math.Pi * float64(a) / n)
		r := f.set.CutMargin * (f.extent() + f.set.CutMarginMM)
		p := f.Pixel(r*c, r*s)
		if math.IsNaN(p.X) {
			continue
		}
		x0, y0, x1, y1 = min(x0, p.X), min(y0, p.Y), max(x1, p.X), max(y1, p.Y)
	}
	clamp := func(v float64, hi int) int { return int(max(0, min(v, float64(hi)))) }
	factor := min(max(int(f.Spec.LineMM*f.PxPerMM()/f.set.LeastLinePx), 1), f.set.MostReduction)
	w, h := im.Width, im.Height
	f.raster = raster.New(im, clamp(x0, w), clamp(y0, h), clamp(x1+1, w), clamp(y1+1, h), factor)
}

// sane says whether the fit is still a picture of the target: its centre on
// the photo, its plane in front of the camera and not edge-on, of a size that a
// photo may have. A fit that ran away is none of these; nor is one that holds a NaN,
// since no comparison with it is true.
func (f *Fit) sane() bool {
	size := f.PxPerMM() * f.Spec.OuterRadius()
	return f.raster.Contains(f.Pixel(0, 0)) &&
		f.Log.Below("ring.MostTiltDeg", f.Pose.Tilt()*180/math.Pi, f.set.MostTiltDeg, "a plane that faces the camera") &&
		f.Log.Above("ring.LeastRadiusPx", size, f.set.LeastRadiusPx, "large enough to be a target") &&
		f.Log.Below("ring.MostRadiusPx", size, f.set.MostRadiusPx, "small enough to be a target")
}
