package plan

import (
	"fmt"
	"math"
	"strings"
)

// What is worth telling: a departure that is surely there, and large enough to be
// felt beside a limit of 2 mm.
const (
	tellMM    = 0.15
	tellSure  = 2.5  // standard uncertainties
	tellShare = 0.25 // of the limit, for what the screws leave
)

// findings are what no screw can cure, and what else the readings show.
func (p *planner) findings() (list []Finding) {
	if p.hopeless {
		list = append(list, p.beyondFinding())
	}
	if offset := p.constantOffset(); offset != nil {
		list = append(list, *offset)
	}
	list = append(list, p.shapeOfBed()...)
	for _, f := range []*Finding{p.clipped(), p.parted(), p.atTheStop(), p.pullsAmiss()} {
		if f != nil {
			list = append(list, *f)
		}
	}
	return list
}

func (p *planner) beyondFinding() Finding {
	station, worst := p.outlook.worst(p.turns)
	name := p.response.Stations[p.stations[station]]
	f := Finding{
		Code:     "beyond-the-screws",
		Text:     fmt.Sprintf("No turns that the screws and mirrors allow bring every spot within %.3g mm. Put right what the other findings name first, then fire again.", p.limit),
		Evidence: fmt.Sprintf("at best the worst spot stays %.2f mm from the centre, at %s", worst, name),
	}
	if worst <= p.limit {
		f.Text = "No turn as fine as a hand can set betters the worst spot. It is at the limit, and the readings alone cannot place it within: fire again there, or accept it by eye."
	}
	return f
}

// shapeOfBed tells errors that follow from how the head travels.
func (p *planner) shapeOfBed() (list []Finding) {
	f := p.fieldOf(p.now.readings)
	// A corner departs from the plane of the other three by four times the coefficient.
	if v, u := times(4, f.corner), times(4, f.cornerU); f.hasCorner && telling(v, u) {
		list = append(list, Finding{
			Code: "fourth-corner",
			Text: "The fourth corner does not follow from the other three: the error grows with x times y, so the gantry or its rails are twisted. No mirror screw cures that; " +
				"check that the rails are level with each other and the gantry is square and not racked.",
			Evidence: "the corner at the rear right departs from the plane of the other three by " + surely(v, u),
		})
	}
	// The middle departs from the plane of the corners by the coefficient, the other way.
	if v, u := times(-1, f.bow), f.bowU; f.hasBow && telling(v, u) {
		list = append(list, Finding{
			Code:     "curved-rail",
			Text:     "The middle of the bed does not lie between its corners: a rail is bowed, or the head rocks on its way. No mirror screw cures that; check the rails with a straight edge.",
			Evidence: "the middle departs from the corners' plane by " + surely(v, u),
		})
	}
	return list
}

// surely tells a displacement with its uncertainty, "0.80 ± 0.14 mm left and 0.02 ±
// 0.14 mm up"; ± is two standard uncertainties.
func surely(v, u [2]float64) string {
	var parts [2]string
	for a := range v {
		parts[a] = fmt.Sprintf("%.2f ± %.2f mm %s", math.Abs(v[a]), 2*u[a], side(v[a], onTarget[a]))
	}
	return parts[0] + " and " + parts[1]
}

func times(k float64, v [2]float64) [2]float64 { return [2]float64{k * v[0], k * v[1]} }

// telling says whether one of two values is surely there and large enough to tell.
func telling(v, u [2]float64) bool {
	for a := range v {
		if math.Abs(v[a]) >= tellMM && math.Abs(v[a]) >= tellSure*u[a] {
			return true
		}
	}
	return false
}

// words tells a displacement, "0.80 mm left and 0.20 mm up".
func words(v [2]float64, names [2][2]string) string {
	var parts []string
	for a := range v {
		// What is rounded away beside the other direction is left out.
		if math.Abs(v[a]) >= 0.05 || math.Abs(v[a]) >= math.Abs(v[1-a]) {
			parts = append(parts, fmt.Sprintf("%.2f mm %s", math.Abs(v[a]), side(v[a], names[a])))
		}
	}
	return strings.Join(parts, " and ")
}

func side(v float64, names [2]string) string {
	if v < 0 {
		return names[0]
	}
	return names[1]
}
