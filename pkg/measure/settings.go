package measure

import "burngauge.dev/burngauge/pkg/coverage"

// Settings are the numbers by which a measurement is stated: what is added to
// its uncertainty from elsewhere, and what is warned of.
//
// Where a comment names simulated photos, they are those of scripts/fixtures;
// the seeds of those samples were not kept. Measure again: scripts/margins
// -seed N -count N prints for each decision, under the name "measure." and the
// field, the quantiles of both kinds of photo; scripts/accuracy FOLDER shows
// whether the parts of the uncertainty hold what they say.
type Settings struct {
	// CoverageP is the probability with which the stated circle holds the offset.
	CoverageP float64

	// Parts of the uncertainty of type B (JCGM 100, 4.3): standard uncertainties.

	// ResidualPX: a phone's colour mosaic, sharpening, tone curve and JPEG blocks
	// move edges, alike on all of one side. In simulated photos that have them
	// this is what they leave, px of the photo per axis.
	ResidualPX float64
	// GrainMM: char follows the tape's grain, so that its edge is not where its
	// heat was. From simulated photos with grain, mm per axis.
	GrainMM float64
	// RimU: a rim throws a shadow and may be bevelled, which moves its edge on
	// one side, mm per axis. Common practice, no source.
	RimU float64
	// OneLineU: when one ring alone is seen, tape, texture and shadow may move a
	// side of its line by this part of its width, and no other ring says so. From
	// simulated photos of soft rings, per axis.
	OneLineU float64

	// Warnings are a contract: they do not stop the work, and they are shown
	// wherever the number is.

	// TiltDeg is the angle from which the target is seen beyond which the tape's
	// height and the lens move the offset most, degrees. Common practice, no source.
	TiltDeg float64
	// SmallShare is the outer ring over the photo's short side, below which pixels
	// are few. Common practice, no source.
	SmallShare float64
	// LeastPixels of a photo that comes from a phone as it was taken: phones' own
	// settings give more, the smallest common one is 1920 x 1080 (from memory).
	LeastPixels float64
	// LargeU is the radius of the stated circle, mm, and LargeUShare its share of
	// the limit, that are both exceeded by an uncertainty that leaves few verdicts
	// plain. Common practice, no source.
	LargeU, LargeUShare float64
	// LeastCircles of a fit whose tilt rests on them; with fewer it is left to the
	// index mark. Two circles fix the plane (pkg/conic), one leaves it open.
	LeastCircles int

	// Sure is the probability that a plain verdict needs: that of pkg/coverage,
	// which decides it. It stands here so that the decision has its line.
	Sure float64
}

// DefaultSettings are those that every measurement is stated by.
func DefaultSettings() Settings {
	return Settings{
		CoverageP:  0.95,
		ResidualPX: 0.045, GrainMM: 0.003, RimU: 0.02, OneLineU: 0.03,
		TiltDeg: 35.0, SmallShare: 0.12, LeastPixels: 1.5e6, LargeU: 0.1, LargeUShare: 0.1, LeastCircles: 2,
		Sure: coverage.Sure,
	}
}
