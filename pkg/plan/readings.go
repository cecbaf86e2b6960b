package plan

import (
	"math"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/report"
)

// reading is where the beam's mark was measured at one station.
type reading struct {
	station    string
	place      [2]float64    // mm right and up on the target
	covariance [2][2]float64 // mm²
	clipped    bool          // something cut into the beam: its middle is pulled
	pointer    *pointerMark  // nil unless the red pointer was measured too
}

// pointerMark is where the pointer's dot lies as seen from the burn, mm right and up,
// and the radius that holds it with probability coverage.Sure.
type pointerMark struct {
	place    [2]float64
	radiusMM float64
}

// readings are the measured burns of a report, in its order. Stations without one
// are left out.
func (s ReadingSettings) readings(r *report.Report) (list []reading) {
	for _, station := range r.Stations {
		b := station.Burn
		if b == nil || b.Status != report.Measured || b.Offset == nil || b.Uncertainty == nil {
			continue
		}
		one := reading{station: station.Station, place: [2]float64{b.Offset.RightMM, b.Offset.UpMM}, covariance: s.invertible(b.Uncertainty.CovarianceMM2)}
		if b.Size != nil && b.Size.Shape == "clipped" {
			one.clipped = true
			one.covariance = coverage.Sum(one.covariance, coverage.Isotropic(s.ClippedMM))
		}
		if p := station.BeamFromPointer; p != nil {
			one.pointer = &pointerMark{place: [2]float64{-p.RightMM, -p.UpMM}, radiusMM: p.RadiusMM}
		}
		list = append(list, one)
	}
	return list
}

// invertible makes a covariance that can be inverted, since rows are divided by its
// Cholesky factor: variances of LeastMM² at least and a correlation |ρ| = |c_xy|/√(c_xx c_yy)
// of MostCorrelation at most. A report that was rounded, or written by hand, may have neither.
func (s ReadingSettings) invertible(c [2][2]float64) [2][2]float64 {
	least := s.LeastMM * s.LeastMM
	xx, yy := max(c[0][0], least), max(c[1][1], least)
	most := s.MostCorrelation * math.Sqrt(xx*yy)
	xy := min(max((c[0][1]+c[1][0])/2, -most), most)
	return [2][2]float64{{xx, xy}, {xy, yy}}
}

// believable says whether a target can show such a reading. A NaN is not.
func (s ReadingSettings) believable(r reading) bool {
	return r.distance() <= s.MostMM && r.covariance[0][0]+r.covariance[1][1] <= s.MostMM*s.MostMM
}

// state judges a reading against a limit: inside, outside or borderline.
func (r reading) state(limitMM float64) string {
	return coverage.State(coverage.Within(r.place, r.covariance, limitMM))
}

// distance from the target's centre, mm.
func (r reading) distance() float64 { return math.Hypot(r.place[0], r.place[1]) }
