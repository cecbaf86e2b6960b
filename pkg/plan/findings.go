package plan

import (
	"fmt"
	"math"
	"strings"
)

// findings are what no screw can cure, and what else the readings show. It runs when
// the turns are chosen.
func (p *planner) findings() (list []Finding) {
	if p.beyond {
		list = append(list, p.beyondTheScrews())
	}
	if offset := (&offsetFinder{p}).finding(); offset != nil {
		list = append(list, *offset)
	}
	list = append(list, p.shapeOfBed()...)
	for _, f := range []*Finding{p.clipped(), p.pointerParted(), p.atTheStop(), p.screwGain()} {
		if f != nil {
			list = append(list, *f)
		}
	}
	return list
}

func (p *planner) beyondTheScrews() Finding {
	station, worst := p.outlook.worst(p.turns)
	name := p.response.Stations[p.stations[station]]
	f := Finding{
		Code:     CodeBeyond,
		Text:     fmt.Sprintf("No turns that the screws and mirrors allow bring every spot within %.3g mm. Put right what the other findings name first, then fire again.", p.limitMM),
		Evidence: fmt.Sprintf("at best the worst spot stays %.2f mm from the centre, at %s", worst, name),
	}
	if worst <= p.limitMM {
		f.Text = "No turn as fine as a hand can set brings the worst spot nearer. It is at the limit, and the readings alone cannot place it within: fire again there, or accept it by eye."
	}
	return f
}

// shapeOfBed are errors that follow from how the head travels. With places -1..1 over
// the bed and the fit of bedShape, a corner departs from the plane of the other three
// by four times the twist's coefficient d: the plane through (1,-1), (-1,1), (-1,-1) of
// d xy is -3d at (1,1), where d xy is d. The middle departs from the corners' plane by
// the bow's e the other way: (x² + y²)/2 is 1 at the corners and 0 there.
func (p *planner) shapeOfBed() (list []Finding) {
	shape := p.shapeOf(p.now.readings)
	if v, u := times(4, shape.twist), times(4, shape.twistU); shape.hasTwist && p.noteworthy(v, u) {
		list = append(list, Finding{
			Code: CodeFourthCorner,
			Text: "The fourth corner does not follow from the other three: the error grows with x times y, so the gantry or its rails are twisted. No mirror screw cures that; " +
				"check that the rails are level with each other and the gantry is square and not racked.",
			Evidence: "the corner at the rear right departs from the plane of the other three by " + withUncertainty(v, u),
		})
	}
	if v, u := times(-1, shape.bow), shape.bowU; shape.hasBow && p.noteworthy(v, u) {
		list = append(list, Finding{
			Code:     CodeCurvedRail,
			Text:     "The middle of the bed does not lie between its corners: a rail is bowed, or the head rocks on its way. No mirror screw cures that; check the rails with a straight edge.",
			Evidence: "the middle departs from the corners' plane by " + withUncertainty(v, u),
		})
	}
	return list
}

func times(k float64, v [2]float64) [2]float64 { return [2]float64{k * v[0], k * v[1]} }

// noteworthy says whether one of two values v with their standard uncertainties u is surely
// there and large enough to name: |v| >= LeastSure u, a test of v against 0, and |v| >=
// LeastMM, below which nobody would mend it.
func (p *planner) noteworthy(v, u [2]float64) bool {
	s := p.settings.Finding
	for a := range v {
		if math.Abs(v[a]) >= s.LeastMM && math.Abs(v[a]) >= s.LeastSure*u[a] {
			return true
		}
	}
	return false
}

// atTheStop names screws that the plan brings to the end of their travel: to within
// StopSteps finest turns of it, |s + t| > T - StopSteps step, with s turned before.
func (p *planner) atTheStop() *Finding {
	var list []string
	for j, t := range p.turns {
		m := p.mount(j)
		if t != 0 && math.Abs(p.now.turned[j]+t) > m.TravelTurns-p.settings.Finding.StopSteps*m.SmallestTurn {
			list = append(list, p.response.Screws[j].String())
		}
	}
	if len(list) == 0 {
		return nil
	}
	return &Finding{
		Code:     CodeTravelUsedUp,
		Text:     "A screw comes to the end of its travel. Loosen the mount and set it again, or move the part that the other findings name, with the screws back in the middle of their travel.",
		Evidence: strings.Join(list, "; ") + ", counted from the first report of this plan",
	}
}

// screwGain names screws that the past rounds show to move the spots more or less than
// the profile says: by GainShare at least, and by GainSure standard uncertainties.
func (p *planner) screwGain() *Finding {
	var list []string
	s := p.settings.Finding
	l := p.learnt()
	for j, screw := range l.Screws {
		own := p.point(j).Pull()
		if gain, u := l.Gain[j]/own, l.U[j]/own; l.New[j] && math.Abs(gain-1) >= max(s.GainShare, s.GainSure*u) {
			list = append(list, fmt.Sprintf("%s: %.2f ± %.2f", screw, gain, 2*u))
		}
	}
	if len(list) == 0 {
		return nil
	}
	return &Finding{
		Code:     CodeScrewGain,
		Text:     "Past rounds show screws that move the spots more or less than the profile says: a worn or another thread, or a length in the profile that is wrong. This plan takes it into account; mirrorplan learn keeps it for the next visit.",
		Evidence: "times what the profile says: " + strings.Join(list, "; "),
	}
}
