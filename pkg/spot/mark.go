// Package spot says what is measured of a mark on the target: where it is, its
// size and form, and how well that is known. What finds and measures a mark
// stands below it: the burn in burn, the red pointer's dot in pointer, both on
// the target seen from straight above, which is flat.
//
// Places are in mm, right and up, on the tape's surface.
package spot

import "math"

// Mark is one measured mark.
type Mark struct {
	X, Y         float64      // centre, mm: right, up
	Major, Minor float64      // 4 sigma along the principal axes, mm
	Axis         float64      // of the major axis, from right towards up, radians, (-π/2, π/2]
	Shape        Shape        // the word for its form
	Contrast     float64      // of its edge, 0..1
	EdgeU        float64      // standard uncertainty from what counts as the mark's edge, mm per axis
	NoiseU       float64      // standard uncertainty from noise and texture, mm per axis
	Outline      [][2]float64 // its contour, mm: right, up
}

// Shape is the word for a mark's form.
type Shape string

// The forms. A dot is round or oval.
const (
	Round   Shape = "round"
	Oval    Shape = "oval"
	Ragged  Shape = "ragged"  // its outline is rough
	Clipped Shape = "clipped" // it has a straight side
	Double  Shape = "double"  // two that overlap
)

// CircularRatio is the minor over the major size from which up a beam counts as
// circular (ISO 11146-1).
const CircularRatio = 0.87

// Moments are the zeroth, first and second moments of a weight w(x, y) on the
// target, from which a mark's centre and size follow as ISO 11146-1 has them for
// a beam's power density:
//
//	x̄ = Σ w x / Σ w    σ²x = Σ w (x - x̄)² / Σ w    σ²xy = Σ w (x - x̄)(y - ȳ) / Σ w
type Moments struct {
	Area       float64 // Σ w times the area of a cell, mm²
	X, Y       float64 // centre, mm
	XX, YY, XY float64 // variances and covariance, mm²
}

// Principal are the 4-sigma sizes along the principal axes, mm, and the major
// axis's direction from right towards up, radians. The variances along the axes
// are the eigenvalues of [σ²x σ²xy; σ²xy σ²y],
//
//	(σ²x + σ²y)/2 ± √(((σ²x - σ²y)/2)² + σ⁴xy)
//
// (ISO 11146-1's dσx, dσy and azimuth, ordered by size and not by nearness to x).
func (m Moments) Principal() (major, minor, axis float64) {
	half, diff := (m.XX+m.YY)/2, math.Hypot((m.XX-m.YY)/2, m.XY)
	return 4 * math.Sqrt(half+diff), 4 * math.Sqrt(max(0, half-diff)), 0.5 * math.Atan2(2*m.XY, m.XX-m.YY)
}

// Distance is how far two centres lie apart, mm.
func (m Moments) Distance(o Moments) float64 { return math.Hypot(m.X-o.X, m.Y-o.Y) }
