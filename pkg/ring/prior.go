package ring

import "math"

// strains lists the departures from what is known beforehand, each over its
// standard uncertainty, (value - known)/u: focal length, principal point (2),
// distortion, then the print's. Their squares are what the least squares adds for
// them; each is 1 in the mean when what is known is right and nothing else says it.
func (m *model) strains() []float64 {
	p, c := m.priors, m.Camera
	out := []float64{
		math.Log(c.Focal/p.Camera.Focal) / p.LogFocalU,
		(c.X - p.Camera.X) / p.PrincipalU,
		(c.Y - p.Camera.Y) / p.PrincipalU,
		c.K1 / p.K1U,
	}
	for i, v := range m.print {
		out = append(out, v/m.departureU(firstDeparture+parameter(i)))
	}
	return out
}

// departureU is the standard uncertainty of one departure of the print from the
// spec, mm or radians. The spec states U for a diameter, so a radius has half.
// Where a step is traced and not a line, tone curve and sharpening in the phone move
// it to one side by part of a pixel, which looks like a larger or smaller rim or bar:
// that part is added in quadrature (JCGM 100, 5.1.2).
func (m *model) departureU(p parameter) float64 {
	u := max(m.Spec.RingsUMM, m.set.LeastPrintUMM)
	switch l := m.layout(); {
	case l.isRing(p):
		return u / 2
	case p == l.bar(barTurn): // an end off by u/2 against the other by u/2 the other way
		return u / (m.Spec.Index.ToMM - m.Spec.Index.FromMM)
	case p == l.rim(), p == l.bar(barHalfWidth), p == l.bar(barHalfLength):
		return math.Hypot(u/2, m.stepU)
	default: // the bar's place
		return u / 2
	}
}

// Strain is the sum of squares of all departures from what is known of print and
// camera, in standard uncertainties.
func (m *model) Strain() float64 { return square(m.strains()) }

// cameraStrain is the camera's part of Strain: four departures.
func (m *model) cameraStrain() float64 { return square(m.strains()[:firstDeparture-firstKnown]) }

// With k departures, each normal with the standard uncertainty that is stated for it,
// a sum of their squares is chi-squared with k degrees of freedom at most: less, since
// the fit takes a departure only as far as edges ask for it. That is what limits on a
// strain are compared with.

// RingStrain is how far the rings' diameters had to be taken from the spec's,
// in its uncertainties, squared and summed.
func (m *model) RingStrain() float64 { return m.printStrain(firstDeparture, m.layout().rim()) }

// barStrain is the same of the index bar's five departures.
func (m *model) barStrain() float64 { return m.printStrain(m.layout().bar(0), m.layout().end()) }

// printStrain is the sum of squares of the print's departures in [from, to).
func (m *model) printStrain(from, to parameter) float64 {
	strain := 0.0
	for p := from; p < to; p++ {
		v, u := m.departure(p), m.departureU(p)
		strain += v * v / (u * u)
	}
	return strain
}
