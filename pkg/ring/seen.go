package ring

import "math"

// Seen is one circle the fit rests on.
type Seen struct {
	DiameterMM float64
	Arc        float64 // fraction of the circle
	RMSPx      float64 // of the edge points that count, photo px
}

// Seen lists the rings, and the rim, that the fit rests on.
func (f *Fit) Seen() []Seen {
	var out []Seen
	add := func(g group, diameter float64) {
		sum, n := 0.0, 0.0
		for i, t := range f.traces {
			if t.kind == g.kind && t.which == g.which && f.weights[i] > 0 {
				r := f.residual(t)
				sum += f.weights[i] * r * r
				n += f.weights[i]
			}
		}
		if n > 0 {
			out = append(out, Seen{diameter, f.seen(g), math.Sqrt(sum / n)})
		}
	}
	for k, d := range f.Spec.RingsMM {
		add(group{lineFeature, k}, d)
	}
	if f.Spec.RimMM > 0 {
		add(group{rimFeature, 0}, f.Spec.RimMM)
	}
	return out
}

// RingsSeen is how many of the spec's rings the fit rests on.
func (f *Fit) RingsSeen() int {
	n := 0
	for k := range f.Spec.RingsMM {
		if f.Arc(k) > LeastSeen {
			n++
		}
	}
	return n
}

// SkipsRing tells whether a ring between two that are seen is not: a mark may hide
// the inner rings and tape a part of each, but neither hides just that one.
func (f *Fit) SkipsRing() bool {
	seen, gap := false, false
	for k := range f.Spec.RingsMM {
		switch here := f.Arc(k) > LeastSeen; {
		case here && gap:
			return true
		case here:
			seen = true
		case seen:
			gap = true
		}
	}
	return false
}

// RingStrain is how far the rings' diameters had to be taken from the spec's,
// in its uncertainties, squared and summed.
func (f *Fit) RingStrain() float64 {
	strain := 0.0
	for i := range f.Spec.RingsMM {
		strain += f.off[i] * f.off[i] / (f.offU(i) * f.offU(i))
	}
	return strain
}

// Strain is the sum of squares of all departures from what is known of print and
// camera, in standard uncertainties.
func (f *Fit) Strain() float64 { return square(f.prior()) }

// BarFits tells whether the bar's sides lie where the spec has them: with
// one circle alone nothing else tells which circle it is.
func (f *Fit) BarFits() bool {
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
