package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/lens"
)

// model is the plane with all that a fit may move, and what is known of it
// beforehand. It is a value: moving gives another one.
type model struct {
	Plane
	priors lens.Priors
	print  []float64 // departures of the print from its spec, mm or rad, by departure; never written to
	stepU  float64   // mm, StepBiasPx at this scale
	set    *Settings // of the whole fit; shared, never written to
}

func (m *model) layout() layout { return layout{rings: len(m.Spec.RingsMM)} }

// departure is one of the print's.
func (m *model) departure(p parameter) float64 { return m.print[p-firstDeparture] }

// moved is the model after its parameters change by d: R turned by the rotation
// vector (Rodrigues' formula), T shifted in units of its depth, the focal length
// times the exponential of its change, all others by their sum.
func (m *model) moved(d []float64) model {
	g := *m
	g.Pose = m.Pose.Rotated([3]float64{d[turnRight], d[turnUp], d[turnFacing]})
	for i := range 3 {
		g.Pose.T[i] += d[shiftX+parameter(i)] * m.Pose.T[2]
	}
	g.Camera.Focal *= math.Exp(d[logFocal])
	g.Camera.X += d[principalX]
	g.Camera.Y += d[principalY]
	g.Camera.K1 += d[distortion]
	g.print = append([]float64(nil), m.print...)
	for i := range g.print {
		g.print[i] += d[firstDeparture+parameter(i)]
	}
	return g
}

// departed is the model, for derivatives by the print, after one departure of its print changes by each of the
// amounts in turn.
func (m *model) departed(p parameter, by ...float64) model {
	g := *m
	g.print = append([]float64(nil), m.print...)
	for _, d := range by {
		g.print[p-firstDeparture] += d
	}
	return g
}

// steps are the parameter changes for numerical derivatives: each moves edges
// by a small part of a pixel. A turn of 1e-5 moves a place at a radius of 500 px by
// 0.005 px, a shift as much of the distance; the principal point is in px itself.
func (m *model) steps() []float64 {
	s := make([]float64, m.layout().size())
	for i := range s {
		s[i] = m.set.DerivativeStep
	}
	s[principalX], s[principalY] = m.set.DerivativeStepPx, m.set.DerivativeStepPx
	return s
}

// residual is how far, in photo px, a trace lies outside its curve: of a circle with
// the radius r and the print's departure δ, (√(x² + y²) - r - δ) px/mm, of a bar's side
// its distance from the straight line. The scale is that of the walk on which the trace
// was found and stays as it was: were it the model's own, a plane farther off would
// fit every edge better.
func (m *model) residual(t trace) float64 {
	x, y := m.Camera.Plane(m.Pose, t.px)
	switch t.kind {
	case lineFeature:
		return (math.Sqrt(x*x+y*y) - m.Spec.RingsMM[t.which]/2 - m.departure(m.layout().ring(t.which))) * t.pxPerMM
	case rimFeature:
		return (math.Sqrt(x*x+y*y) - m.Spec.RimMM/2 - m.departure(m.layout().rim())) * t.pxPerMM
	default:
		return m.barSide(side(t.which), x, y) * t.pxPerMM
	}
}

// side is one of the index bar's four.
type side int

// The bar's sides, seen with the target's up at the top.
const (
	leftSide side = iota
	rightSide
	innerEnd
	outerEnd
	barSides // how many there are
)

// barSide is how far, in mm, a place on the target lies outside one side of
// the index bar, the bar moved, turned and sized as the print's departures say. In
// the bar's own axes, about its middle, the sides are straight lines:
//
//	(x', y') = (x + φy, y - φx)
//
// is the turn by φ, clockwise, to first order: φ² is left out beside 1.
func (m *model) barSide(s side, x, y float64) float64 {
	l := m.layout()
	from, to := m.barEnds()
	middle := (from + to) / 2
	x -= m.departure(l.bar(barRight))
	y -= m.departure(l.bar(barUp)) + middle
	turn := m.departure(l.bar(barTurn))
	x, y = x+turn*y, y-turn*x
	halfWidth, halfLength := m.departure(l.bar(barHalfWidth)), m.departure(l.bar(barHalfLength))
	switch s {
	case leftSide:
		return -x - m.Spec.Index.WidthMM/2 - halfWidth
	case rightSide:
		return x - m.Spec.Index.WidthMM/2 - halfWidth
	case innerEnd:
		return -y - (to-from)/2 - halfLength
	default:
		return y - (to-from)/2 - halfLength
	}
}
