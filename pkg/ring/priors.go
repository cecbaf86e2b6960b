package ring

import "math"

// unheld is the finished fit, fitted once more as if the picture had been cut
// out of another. Two circles or more tell the perspective themselves, and a cut
// that keeps a camera's format, a square above all, does not show: holding such
// a fit to the file's focal length and the picture's middle moved its centre by
// up to 0.5 mm. Of whole photos the errors stay and the radii grow, by up to 7 % in
// a set's median. What is known of the camera has told the tilt from its mirror
// image before.
func (f *Fit) FreeCamera() *Fit {
	if f.Circles() < 2 {
		return f
	}
	g := f.clone()
	g.priors = f.priors.Cropped()
	if square(f.prior()) > heldStrain {
		if h := g.traceAgain(); h != nil {
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
func (f *Fit) traceAgain() *Fit {
	g := f.clone()
	g.looked, g.noise = map[group]int{}, map[int]float64{}
	if g.Refine() != nil || !f.Indexed {
		return nil
	}
	index := g.FindIndex(FineAngles)
	if !index.Clear() {
		return nil
	}
	if g = g.WithIndex(index); !g.Indexed {
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
