package ring

// What is known of a camera is worth most when it is needed least to be exact: it
// chooses between two tilts, which lie far apart. Once the tilt is chosen, two circles
// or more determine focal length and principal point by how the ellipses' centres lie
// apart, as well as the centre of the rings needs it; and a file that is wrong of them,
// because the picture was cut, pulls that centre. So they are freed at the end.

// FreeCamera is the finished fit, fitted once more as if the picture had been cut
// out of another. Two circles or more show the perspective themselves, and a cut
// that keeps a camera's format, a square above all, does not show: holding such
// a fit to the file's focal length and the picture's middle moved its centre by
// up to 0.5 mm in simulated photos. Of whole photos the errors stay and the radii
// grow, by up to 7 % in a set's median. What is known of the camera is not lost: it
// has distinguished the tilt from its mirror image before.
func (f *Fit) FreeCamera() *Fit {
	if f.Circles() < 2 {
		return f
	}
	g := *f
	g.priors = f.priors.Cropped()
	if f.Log.Above("ring.HeldStrain", f.Strain(), f.set.HeldStrain, "the edges are traced once more") {
		if h := g.traceAgain(); h != nil {
			return h
		}
	}
	if err := g.solve(f.set.FreeRounds); err != nil || !g.sane() {
		return f
	}
	return &g
}

// traceAgain traces and fits all once more from where the fit is; nil when that does
// not end with the index bar.
func (f *Fit) traceAgain() *Fit {
	g := *f
	if g.Refine() != nil || !f.Indexed {
		return nil
	}
	index := g.FindIndex(FineAngles)
	if !index.Clear() {
		return nil
	}
	if h := g.WithIndex(index); h.Indexed {
		return h
	}
	return nil
}
