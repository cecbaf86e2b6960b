package lens

import "math"

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

// Picture is what a photo's file says of its camera.
type Picture struct {
	Width, Height int     // px, upright
	FocalPx       float64 // by EXIF, px; 0: unknown
	Cropped       bool    // its sides fit no camera's format
}

// NewPriors says what is known of the camera that took the picture.
func NewPriors(p Picture) Priors {
	diagonal := math.Hypot(float64(p.Width), float64(p.Height))
	out := Priors{
		Camera: Camera{
			Focal: focalUnknown / diagonal35 * diagonal,
			X:     float64(p.Width-1) / 2, Y: float64(p.Height-1) / 2,
			HalfDiagonal: diagonal / 2,
		},
		LogFocalU: focalUnknownU, PrincipalU: principalOpenU * diagonal, K1U: distortionU,
	}
	switch {
	case p.Cropped:
		out = out.Cropped()
	case p.FocalPx > 0:
		out.Camera.Focal, out.LogFocalU, out.PrincipalU = p.FocalPx, focalKnownU, principalU*diagonal
	}
	return out
}

// Cropped are the priors of a picture that was cut out of another.
func (p Priors) Cropped() Priors {
	p.LogFocalU = max(p.LogFocalU, focalCroppedU)
	p.PrincipalU = max(p.PrincipalU, principalCroppedU*2*p.Camera.HalfDiagonal)
	return p
}

// Cameras are those that the fit may start from: the one known from EXIF, or
// the main lens of a phone and its longer ones.
func (p Priors) Cameras() []Camera {
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
