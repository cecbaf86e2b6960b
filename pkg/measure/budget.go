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

// newBudget lists the parts for one mark, each a covariance of the offset (right, up):
//
//	of the fit          J C Jᵀ for each source's share C of the covariance of pose, camera and
//	                    rings, J = ∂(right, up)/∂(parameters) at the mark: see ring.Fit.Parts
//	rim's, one line's   u² I: nothing else seen in the photo contradicts a shift of that curve
//	mark's edge         u² I, u from how far the middle follows the choice of the edge's level
//	mark's grain        u² I, u a constant of tapes
//	mark's noise        u² I, u from the scatter of the cells that the middle is summed over
//	tape height         u² s sᵀ, along the line of sight only: see parallax
//	pixels              (ResidualPX / PxPerMM)² I: px of the photo taken to mm on the target
//
// Those of the fit depend on where the mark lies: a turn of the plane moves a place the
// more the farther out it is.
func newBudget(fit *ring.Fit, mark *spot.Mark, set Settings) budget {
	px := fit.Raised(mark.X, mark.Y)
	b := budget{}
	for _, part := range fit.Parts(px, fit.Spec.TapeMM) {
		b = append(b, share{part.Source, part.Evaluation, part.Covariance})
	}
	switch {
	case fit.RimOnly():
		b = append(b, share{"rim's edge", "B", coverage.Isotropic(set.RimU)})
	case fit.Circles() == 1:
		b = append(b, share{"one ring's line", "B", coverage.Isotropic(set.OneLineU * fit.Spec.LineMM)})
	}
	return append(b,
		share{"mark's edge", "B", coverage.Isotropic(mark.EdgeU)},
		share{"mark's grain", "B", coverage.Isotropic(set.GrainMM)},
		share{"mark's noise", "A", coverage.Isotropic(mark.NoiseU)},
		share{"tape height", "B", parallax(fit, fit.Spec.TapeUMM)},
		share{"pixels", "B", coverage.Isotropic(set.ResidualPX / fit.PxPerMM())},
	)
}

// parallax is the covariance in mm² of the shift that an uncertain height of the
// tape gives. A surface h above the rings that is seen at an angle t from their
// normal appears beside its place by h tan t, towards the viewer (geometry: the ray to the
// camera leaves the surface at the angle t). With s = d(right, up)/dh at the rings'
// centre, |s| = tan t, and heightU the standard uncertainty of h in mm, it is
// heightU² s sᵀ (JCGM 100, 5.1.2): all of it along the tilt, nothing across. s comes
// as a difference of the plane at height h and that at 0 through the same pixel.
func parallax(fit *ring.Fit, heightU float64) [2][2]float64 {
	const h = 0.1 // mm, about a tape's; the shift is linear in it
	origin := fit.Pixel(0, 0)
	x0, y0 := fit.At(origin, 0)
	x1, y1 := fit.At(origin, h)
	sx, sy := (x1-x0)/h*heightU, (y1-y0)/h*heightU
	return [2][2]float64{{sx * sx, sx * sy}, {sx * sy, sy * sy}}
}

// covariance is the sum of all parts, mm²: of independent errors the covariances
// add (JCGM 100, 5.1.2).
func (b budget) covariance() [2][2]float64 {
	var sum [2][2]float64
	for _, s := range b {
		sum = coverage.Sum(sum, s.cov)
	}
	return sum
}

// uncertainty is what the measurement states: a circle that holds the offset
// with the probability coverageP, and each part as the root mean square over the two axes,
// √(tr C / 2): of these the squares add up to that of the whole, as the covariances do.
func (b budget) uncertainty(coverageP float64) *report.Uncertainty {
	u := &report.Uncertainty{CovarianceMM2: b.covariance(), Coverage: coverageP}
	u.RadiusMM = coverage.Radius(u.CovarianceMM2, coverageP)
	for _, s := range b {
		u.Budget = append(u.Budget, report.Component{Source: s.source, Evaluation: s.evaluation, UMM: coverage.RMS(s.cov)})
	}
	return u
}
