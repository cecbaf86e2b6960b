package plan

import (
	"math"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/report"
)

// Reading is where the beam's mark was measured at one station, in the target's
// right and up.
type Reading struct {
	Station       string
	RightMM, UpMM float64
	Covariance    [2][2]float64 // mm²
	State         string        // inside | outside | borderline, as the report has it
	Clipped       bool          // something cut into the beam: its middle is pulled
	Pointer       *Parted       // nil unless the red pointer was measured too
}

// Parted is where the pointer lies as seen from the beam.
type Parted struct{ RightMM, UpMM, RadiusMM float64 }

// clippedUMM is the standard uncertainty that a clipped mark's middle gets on each
// axis: half of a burn of 3 mm cut away moves its middle by 0.6 mm (a half disc's
// centroid lies 4r/3π from the whole one's).
const clippedUMM = 0.6

// leastUMM is the least standard uncertainty taken for an axis of a reading: a
// report of another program may say 0.
const leastUMM = 0.001

// Readings are the measured burns of a report, in its order. Stations without one
// are left out.
func Readings(r *report.Report) (list []Reading) {
	for _, s := range r.Stations {
		b := s.Burn
		if b == nil || b.Status != report.Measured || b.Offset == nil || b.Uncertainty == nil {
			continue
		}
		one := Reading{Station: s.Station, RightMM: b.Offset.RightMM, UpMM: b.Offset.UpMM, Covariance: sound(b.Uncertainty.CovarianceMM2)}
		if b.Verdict != nil {
			one.State = b.Verdict.State
		}
		if b.Size != nil && b.Size.Shape == "clipped" {
			one.Clipped = true
			one.Covariance = coverage.Sum(one.Covariance, coverage.Isotropic(clippedUMM))
		}
		if p := s.BeamFromPointer; p != nil {
			one.Pointer = &Parted{RightMM: -p.RightMM, UpMM: -p.UpMM, RadiusMM: p.RadiusMM}
		}
		list = append(list, one)
	}
	return list
}

// sound makes a covariance that can be inverted: variances of some size and a
// correlation below 1.
func sound(c [2][2]float64) [2][2]float64 {
	xx, yy := max(c[0][0], leastUMM*leastUMM), max(c[1][1], leastUMM*leastUMM)
	most := 0.999 * math.Sqrt(xx*yy)
	xy := min(max((c[0][1]+c[1][0])/2, -most), most)
	return [2][2]float64{{xx, xy}, {xy, yy}}
}

// state judges a reading against a limit.
func (r Reading) state(limit float64) string {
	return coverage.State(coverage.Within([2]float64{r.RightMM, r.UpMM}, r.Covariance, limit))
}

// distance from the target's centre, mm.
func (r Reading) distance() float64 { return math.Hypot(r.RightMM, r.UpMM) }
