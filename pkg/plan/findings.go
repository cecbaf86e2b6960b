package plan

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/mat"
)

// What is worth telling: a departure that is surely there, and large enough to be
// felt beside a limit of 2 mm.
const (
	tellMM    = 0.15
	tellSure  = 2.5  // standard uncertainties
	tellShare = 0.25 // of the limit, for what the screws leave
)

// findings are what no screw can cure, and what else the readings show.
func (p *planner) findings(after []Predicted) (list []Finding) {
	if p.hopeless {
		list = append(list, p.beyondFinding())
	}
	if offset := p.constantOffset(after); offset != nil {
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
			Evidence: fmt.Sprintf("the corner at the rear right departs from the plane of the other three by %+.2f ± %.2f mm right, %+.2f ± %.2f mm up", v[0], 2*u[0], v[1], 2*u[1]),
		})
	}
	// The middle departs from the plane of the corners by the coefficient, the other way.
	if v, u := times(-1, f.bow), f.bowU; f.hasBow && telling(v, u) {
		list = append(list, Finding{
			Code:     "curved-rail",
			Text:     "The middle of the bed does not lie between its corners: a rail is bowed, or the head rocks on its way. No mirror screw cures that; check the rails with a straight edge.",
			Evidence: fmt.Sprintf("the middle departs from the corners' plane by %+.2f ± %.2f mm right, %+.2f ± %.2f mm up", v[0], 2*u[0], v[1], 2*u[1]),
		})
	}
	return list
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

// constantOffset tells what all spots have in common after the turns, when taking
// it away would better the worst spot by much.
func (p *planner) constantOffset(after []Predicted) *Finding {
	centre, radius := enclosing(after)
	_, worst := p.outlook.worst(p.turns)
	off := math.Hypot(centre[0], centre[1])
	if off < tellShare*p.limit || worst-radius < tellShare*p.limit || !p.determined() {
		return nil
	}
	if good, _ := p.asItIs(); good {
		return nil
	}
	move := p.sourceMove([2]float64{-centre[0], -centre[1]})
	return &Finding{
		Code: "constant-offset",
		Text: fmt.Sprintf("All spots lie off by the same amount, %s, and tilting mirrors does not cure that well. Move the tube %s, its direction kept, or the last mirror's mount or the target's height by as much.",
			words(centre, [2][2]string{{"left", "right"}, {"down", "up"}}), move),
		Evidence: fmt.Sprintf("after the turns the worst spot is %.2f mm off; without the common part it would be %.2f mm", worst, radius),
	}
}

// enclosing is the smallest circle about all predicted spots, to a hundredth of a
// mm: steps towards the farthest, ever smaller (M. Bădoiu, K. L. Clarkson, 2003
// [from memory]).
func enclosing(spots []Predicted) (centre [2]float64, radius float64) {
	const steps = 400
	for i := range steps {
		far := spots[0]
		radius = 0
		for _, s := range spots {
			if d := math.Hypot(s.RightMM-centre[0], s.UpMM-centre[1]); d >= radius {
				far, radius = s, d
			}
		}
		share := 1 / float64(i+2)
		centre[0] += share * (far.RightMM - centre[0])
		centre[1] += share * (far.UpMM - centre[1])
	}
	return centre, radius
}

// sourceMove is how the tube must be moved, in words, for the spots to move so.
func (p *planner) sourceMove(want [2]float64) string {
	by := p.response.BySource[p.stations[0]]
	a := mat.NewDense(2, 3, nil)
	for axis, v := range by {
		a.Set(0, axis, v[0])
		a.Set(1, axis, v[1])
	}
	f, err := leastSquares(a, want[:])
	if err != nil {
		return "across its beam"
	}
	var parts []string
	for axis, names := range [3][2]string{{"to the left", "to the right"}, {"to the front", "to the rear"}, {"down", "up"}} {
		if v := f.x[axis]; math.Abs(v) >= 0.05 {
			parts = append(parts, fmt.Sprintf("%.2f mm %s", math.Abs(v), side(v, names)))
		}
	}
	if len(parts) == 0 {
		return "across its beam"
	}
	return strings.Join(parts, " and ")
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
