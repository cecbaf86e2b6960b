package measure

import (
	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/spot"
)

// share is one source of uncertainty with its covariance in mm² (right, up).
type share struct {
	source     string
	evaluation string // A: from the scatter in this photo; B: from knowledge of elsewhere (JCGM 100, 3.3.5)
	cov        [2][2]float64
}

// budget is everything that may move the offset. Its parts are independent, so
// their covariances add (JCGM 100, 5.1.2, for two quantities: JCGM 102).
type budget []share

// Settings of the type B parts.
const (
	// coverageP is the probability with which the stated circle holds the offset.
	coverageP = 0.95
	// residualPx: a phone's colour mosaic, sharpening, tone curve and JPEG blocks
	// move edges, alike on all of one side. In simulated photos that have them
	// this is what they leave, px of the photo per axis.
	residualPx = 0.045
	// grainMM: char follows the tape's grain, so that its edge is not where its
	// heat was. From simulated photos with grain, mm per axis.
	grainMM = 0.003
	// rimU: a rim throws a shadow and may be bevelled, which moves its edge on
	// one side. mm per axis. Common practice, no source.
	rimU = 0.02
	// oneLineU: when one ring alone is seen, tape, texture and shadow may move
	// a side of its line by this part of its width, and no other ring says so.
	// From simulated photos of soft rings, per axis.
	oneLineU = 0.03
	// tapeHeightU is the part of the tape's height that is uncertain: it is
	// pressed down more here than there. Common practice, no source.
	tapeHeightU = 0.25
)

// newBudget lists the parts for one mark.
func newBudget(fit *ring.Fit, mark *spot.Mark) budget {
	px := pixelOf(fit, mark)
	b := budget{}
	for _, part := range fit.Parts(px, fit.Spec.TapeMM) {
		b = append(b, share{part.Source, part.Evaluation, part.Covariance})
	}
	switch {
	case fit.RimOnly():
		b = append(b, share{"rim's edge", "B", coverage.Isotropic(rimU)})
	case fit.Circles() == 1:
		b = append(b, share{"one ring's line", "B", coverage.Isotropic(oneLineU * fit.Spec.LineMM)})
	}
	return append(b,
		share{"mark's edge", "B", coverage.Isotropic(mark.EdgeU)},
		share{"mark's grain", "B", coverage.Isotropic(grainMM)},
		share{"mark's noise", "A", coverage.Isotropic(mark.NoiseU)},
		share{"tape height", "B", parallax(fit, tapeHeightU*fit.Spec.TapeMM)},
		share{"pixels", "B", coverage.Isotropic(residualPx / fit.PxPerMM())},
	)
}

// parallax is the covariance of the shift that an uncertain height of the
// tape gives, along the direction from which the target is seen.
func parallax(fit *ring.Fit, heightU float64) [2][2]float64 {
	const h = 0.1 // mm
	origin := fit.Pixel(0, 0)
	x0, y0 := fit.At(origin, 0)
	x1, y1 := fit.At(origin, h)
	sx, sy := (x1-x0)/h*heightU, (y1-y0)/h*heightU
	return [2][2]float64{{sx * sx, sx * sy}, {sx * sy, sy * sy}}
}

// covariance is the sum of all parts.
func (b budget) covariance() [2][2]float64 {
	var sum [2][2]float64
	for _, s := range b {
		sum = coverage.Sum(sum, s.cov)
	}
	return sum
}

// uncertainty is what the measurement states.
func (b budget) uncertainty() *report.Uncertainty {
	u := &report.Uncertainty{CovarianceMM2: b.covariance(), Coverage: coverageP}
	u.RadiusMM = coverage.Radius(u.CovarianceMM2, coverageP)
	for _, s := range b {
		u.Budget = append(u.Budget, report.Component{Source: s.source, Evaluation: s.evaluation, UMM: coverage.RMS(s.cov)})
	}
	return u
}
