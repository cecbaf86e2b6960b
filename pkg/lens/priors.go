package lens

import "math"

// Priors is what is known of the camera before the target is looked at: its most
// likely values, and their standard uncertainties.
type Priors struct {
	Camera     Camera
	LogFocalU  float64 // standard uncertainty of the focal length's logarithm
	PrincipalU float64 // of the principal point on each axis, px
	K1U        float64 // of the distortion
}

// What is known of phone cameras. These decide nothing by themselves: they are the
// weights of equations in the target's fit (pkg/ring), and matter where its edges
// leave the camera open. Smaller ones hold the fit to what the file says, right or
// wrong; larger ones leave more to the edges, and to their noise. All are common
// practice, without a source, but where another one is named.
const (
	// diagonal35 is that of the 36 x 24 mm frame, √(36² + 24²) mm, by which equivalent
	// focal lengths are stated (CIPA DCG-001).
	diagonal35 = 43.266615

	// focalKnownU is that of a focal length in the file: rounded to whole millimetres
	// (1.9 % at 26 mm), and off by 8 % for pictures cropped to 16:9.
	focalKnownU = 0.05
	// mainFocal is that of a phone's main lens, mm equivalent: they lie between 22 and
	// 30 mm.
	mainFocal = 27.0
	// focalUnknownU is that of a focal length that the file does not state: main lenses
	// alone would have 0.1; second lenses are a factor of two away, and are tried as
	// starts (Cameras).
	focalUnknownU = 0.25

	// principalU, of the diagonal, is how far the lens's axis lies from the picture's
	// middle: sensors are mounted, and moved against shake, to about a per cent.
	principalU = 0.01
	// principalOpenU is the same where the file states no focal length: a file without
	// may have been cut.
	principalOpenU = 0.05

	// distortionU is that of K1, of the picture's corner: distortion is corrected in the
	// phone to some per cent of the half diagonal.
	distortionU = 0.03

	// Of a picture cut out by hand neither is known: half the diagonal cut away doubles
	// the focal length that is reckoned from it, and the lens's axis may lie near the
	// cut picture's edge.
	focalCroppedU     = 0.5
	principalCroppedU = 0.25 // of the diagonal
)

// longFocals are those of phones' second lenses, mm equivalent: 50 to 80.
var longFocals = []float64{50, 75}

// Picture is what a photo's file says of its camera.
type Picture struct {
	Width, Height int     // px, upright
	FocalPx       float64 // by EXIF, px; 0: unknown
	Cropped       bool    // its sides fit no camera's format
}

// NewPriors says what is known of the camera that took the picture. An equivalent
// focal length f is one that sees, on the picture's diagonal d, the angle that f sees
// on the 36 x 24 mm frame's: f d / 43.27 px. The principal point is the picture's
// middle, between the middles of its first and last pixels.
func NewPriors(p Picture) Priors {
	diagonal := math.Hypot(float64(p.Width), float64(p.Height))
	out := Priors{
		Camera: Camera{
			Focal: mainFocal / diagonal35 * diagonal,
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

// Cropped are the priors of a picture that was cut out of another: the same values,
// less certain.
func (p Priors) Cropped() Priors {
	p.LogFocalU = max(p.LogFocalU, focalCroppedU)
	p.PrincipalU = max(p.PrincipalU, principalCroppedU*2*p.Camera.HalfDiagonal)
	return p
}

// Cameras are those that a fit may start from: the one known from EXIF, or
// the main lens of a phone and its longer ones.
func (p Priors) Cameras() []Camera {
	if p.LogFocalU < focalUnknownU {
		return []Camera{p.Camera}
	}
	var out []Camera
	for _, focal35 := range append([]float64{mainFocal}, longFocals...) {
		c := p.Camera
		c.Focal *= focal35 / mainFocal
		out = append(out, c)
	}
	return out
}
