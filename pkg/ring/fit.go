package ring

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/lens"
	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/stat"
	"burngauge.dev/burngauge/pkg/target"
)

// Fit is the target plane as one least-squares fit to all traced edges sees it.
//
// The homography from plane to photo is parametrised as a camera and a pose:
// everything that rings and index determine is found freely, and what they
// leave open (one ring leaves the perspective open) is held by what is known
// of phone cameras, with that knowledge's own uncertainty.
type Fit struct {
	Spec   target.Spec
	Camera lens.Camera
	Pose   lens.Pose // mm
	Sign   float64   // -1: lines darker than what they are printed on, +1: lighter
	// Log records the decisions about this fit; nil records nothing.
	Log *decision.Log

	raster  *raster.Raster
	looked  map[group]int   // places looked at, of each curve
	noise   map[int]float64 // slope of noise and texture about each ring
	priors  lens.Priors
	off     []float64 // departures of the print from the spec: each ring's radius, the rim's, then the index bar's (see barParameters)
	traces  []trace
	weights []float64 // of each trace, 0..1
	scale   []float64 // of each trace: root of its weight over its group's scatter, 1/px
	spread  map[group]float64
	cov     *mat.SymDense // of all parameters
	sparse  bool          // trace at every third place
	stepU   float64       // mm, stepBiasPx at this scale
	reach   float64       // mm, how far the last trace looked
	Indexed bool          // the index bar was seen and is part of the fit
}

// group is a set of traces that share one scatter.
type group struct {
	kind  feature
	which int
}

// How many parameters stand for what, beside one for each ring and one for the rim.
const (
	cameraParameters = 10 // turns, shifts, focal length, principal point, distortion
	barParameters    = 5  // of the index bar: place (2), turn, half width, half length
)

// clone is a copy whose state may be changed; traces and weights are shared.
func (f *Fit) clone() *Fit {
	g := *f
	g.off = append([]float64(nil), f.off...)
	return &g
}

func (f *Fit) parameters() int { return cameraParameters + len(f.off) }

// moved is the fit's state after the parameters change by d.
func (f *Fit) moved(d []float64) *Fit {
	g := f.clone()
	g.Pose = f.Pose.Rotated([3]float64{d[0], d[1], d[2]})
	for i := range 3 {
		g.Pose.T[i] += d[3+i] * f.Pose.T[2]
	}
	g.Camera.Focal *= math.Exp(d[6])
	g.Camera.X += d[7]
	g.Camera.Y += d[8]
	g.Camera.K1 += d[9]
	for i := range g.off {
		g.off[i] += d[cameraParameters+i]
	}
	return g
}

// steps are the parameter changes for numerical derivatives: each moves edges
// by a small part of a pixel.
func (f *Fit) steps() []float64 {
	s := make([]float64, f.parameters())
	for i := range s {
		s[i] = 1e-5
	}
	s[7], s[8] = 0.1, 0.1 // px
	return s
}

// Softness is how much wider than its nominal width a line is between its
// flanks, at least 1.
func (f *Fit) Softness() float64 {
	var widths []float64
	for _, t := range f.traces {
		if t.kind == lineFeature {
			widths = append(widths, t.widthMM)
		}
	}
	if len(widths) == 0 {
		return 1
	}
	return max(1, stat.Median(widths)/f.Spec.LineMM)
}
