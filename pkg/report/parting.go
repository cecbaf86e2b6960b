package report

import "burngauge.dev/burngauge/pkg/coverage"

// partingCoverage is the probability that Parting.RadiusMM is for.
const partingCoverage = 0.95

// Part is where the beam lies as seen from the pointer: the difference of the
// two offsets, in the target's right and up. It is nil unless both were
// measured and have an uncertainty.
//
// The radius is from the sum of the two covariances (JCGM 100:2008, 5.1.2). In
// one photo the two share the fit of the rings and the height of the tape, and
// shared errors cancel in a difference, so the true parting lies within the
// radius at least as often as stated.
func Part(burn, pointer *Measurement) *Parting {
	if !burn.placed() || !pointer.placed() {
		return nil
	}
	covariance := coverage.Sum(burn.Uncertainty.CovarianceMM2, pointer.Uncertainty.CovarianceMM2)
	return &Parting{
		RightMM:  burn.Offset.RightMM - pointer.Offset.RightMM,
		UpMM:     burn.Offset.UpMM - pointer.Offset.UpMM,
		RadiusMM: coverage.Radius(covariance, partingCoverage),
	}
}

// placed says whether there is an offset with its uncertainty.
func (m *Measurement) placed() bool {
	return m != nil && m.Status == Measured && m.Offset != nil && m.Uncertainty != nil
}
