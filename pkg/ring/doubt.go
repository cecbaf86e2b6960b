package ring

import (
	"fmt"

	"gonum.org/v1/gonum/stat/distuv"
)

// doubt looks at the finished fit for what speaks against it: lines that the
// spec does not have, or an index bar that does not belong to these rings.
func (s *search) doubt(f *Fit) *Refusal {
	if r, ok := f.strangeLine(); ok {
		if other := s.otherTarget(); other != nil {
			return other
		}
		return &Refusal{WrongTarget, fmt.Sprintf("a ring of about %.1f mm is seen that %s does not have: name the right target with --target", 2*r, f.Spec.Name)}
	}
	if f.ringStrain() > mostRingStrain(f.ringsSeen()) {
		if other := s.otherTarget(); other != nil {
			return other
		}
		return &Refusal{WrongTarget, fmt.Sprintf("the rings' diameters are not in the ratio that %s has: name the right target with --target", f.Spec.Name)}
	}
	if f.Circles() > 1 && square(f.prior()) > mostDeparture {
		return &Refusal{RingsUnclear, textBent}
	}
	if f.Circles() == 1 && !f.RimOnly() && s.strangeEllipse(f) {
		return &Refusal{WrongTarget, fmt.Sprintf("a ring is seen that %s does not have: name the right target with --target", f.Spec.Name)}
	}
	if f.Indexed && f.Circles() == 1 && !f.barBelongs() {
		return s.otherOr(textBar)
	}
	return nil
}

// mostDeparture is the sum of squares of all departures from what is known of
// print and camera: of 319 right fits, simulated, two have more than 10 and none
// more than 17; photos cut or straightened by hand that ended 0.07 to 0.09 mm off
// have 19 and 23.
const mostDeparture = 18

// ringStrain is how far the rings' diameters had to be taken from the spec's,
// in its uncertainties, squared and summed.
func (f *Fit) ringStrain() float64 {
	strain := 0.0
	for i := range f.Spec.RingsMM {
		strain += f.off[i] * f.off[i] / (f.offU(i) * f.offU(i))
	}
	return strain
}

// mostRingStrain is passed by one right target of a thousand.
func mostRingStrain(rings int) float64 {
	return distuv.ChiSquared{K: float64(max(rings, 1))}.Quantile(0.999)
}

// barBelongs tells whether the bar's sides lie where the spec has them: with
// one circle alone nothing else tells which circle it is.
func (f *Fit) barBelongs() bool {
	n := 0
	for side := range 4 {
		if spread, ok := f.spread[group{indexFeature, side}]; ok && spread < 0.08*f.PxPerMM()+1 {
			n++
		}
	}
	strain := 0.0
	for i := len(f.Spec.RingsMM) + 1; i < len(f.off); i++ {
		strain += f.off[i] * f.off[i] / (f.offU(i) * f.offU(i))
	}
	most := mostStrain
	if f.RimOnly() {
		most = mostRimStrain
	}
	return n >= 3 && strain < most
}

// How far the bar's five departures may strain what is known of the print:
// 99.9 % of chi-squared with five degrees of freedom is 20.5. About a bare rim
// the bar is all that tells the tilt: 95 %, 11.1.
const (
	mostStrain    = 20.5
	mostRimStrain = 11.1
)
