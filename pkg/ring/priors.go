package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/photo"
)

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
	focalKnownU    = 0.05
	focalUnknownU  = 0.25
	focalUnknown   = 27.0 // mm, 35 mm equivalent
	principalU     = 0.01 // of the diagonal
	principalOpenU = 0.05
	distortionU    = 0.03
	diagonal35     = 43.266615 // mm, of the 36 x 24 mm frame

	// Of a picture cut out by hand neither is known: half the diagonal cut away
	// doubles the focal length told by the diagonal, and the lens's axis may lie
	// near the cut picture's edge.
	focalCroppedU     = 0.5
	principalCroppedU = 0.25
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
	focal, known := ph.FocalPx()
	switch {
	case ph.Image.Cropped():
		p = p.cropped()
	case known:
		p.Camera.Focal, p.LogFocalU, p.PrincipalU = focal, focalKnownU, principalU*diagonal
	}
	return p
}

// cropped are the priors of a picture that was cut out of another.
func (p Priors) cropped() Priors {
	p.LogFocalU = max(p.LogFocalU, focalCroppedU)
	p.PrincipalU = max(p.PrincipalU, principalCroppedU*2*p.Camera.HalfDiagonal)
	return p
}

// unheld is the finished fit, fitted once more as if the picture had been cut
// out of another. Two circles or more tell the perspective themselves, and a cut
// that keeps a camera's format, a square above all, does not show: holding such
// a fit to the file's focal length and the picture's middle moved its centre by
// up to 0.5 mm. Of whole photos the errors stay and the radii grow, by up to 7 % in
// a set's median. What is known of the camera has told the tilt from its mirror
// image before.
func (f *Fit) unheld() *Fit {
	if f.Circles() < 2 {
		return f
	}
	g := f.clone()
	g.priors = f.priors.cropped()
	if square(f.prior()) > heldStrain {
		if h := g.anew(); h != nil {
			return h
		}
	}
	if err := g.solve(3); err != nil || !g.sane() {
		return f
	}
	return g
}

// heldStrain is the sum of squares of all departures from what is known, from
// which on edges may have been passed over for lying where the known camera does
// not put them, and are traced anew. Of 323 whole photos, simulated, 5 have more
// than 7; cuts in a camera's format, of 11 photos, have 7 to 96 where it matters.
const heldStrain = 7

// anew traces and fits all once more from where the fit is.
func (f *Fit) anew() *Fit {
	g := f.clone()
	g.looked, g.noise = map[group]int{}, map[int]float64{}
	if g.refine() != nil || !f.Indexed {
		return nil
	}
	index := g.findIndex(fineAngles)
	if !index.clear() {
		return nil
	}
	if g = g.withIndex(index); !g.Indexed {
		return nil
	}
	return g
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
