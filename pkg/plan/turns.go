package plan

import "math"

// Directions of a turn.
const (
	Clockwise     = "clockwise"
	Anticlockwise = "anticlockwise"
)

// pastTurns is how far an anticlockwise turn goes past its end to come back
// clockwise: what play there is then always lies on the same side. An eighth is
// more than any play that a mount may have.
const pastTurns = 0.125

// past is that for one screw, in whole finest turns.
func (b *bench) past(screw int) float64 {
	step := b.mount(screw).SmallestTurn
	return step * math.Ceil(pastTurns/step-1e-9)
}

// listed are the turns to do, mirror by mirror in the order of the beam.
func (p *planner) listed() (list []Turn) {
	for j, t := range p.turns {
		if t == 0 {
			continue
		}
		name := p.response.Screws[j]
		if back := p.past(j); t < 0 && back > 0 {
			list = append(list, Turn{name.Mirror, name.Screw, t - back, Anticlockwise}, Turn{name.Mirror, name.Screw, back, Clockwise})
			continue
		}
		list = append(list, Turn{name.Mirror, name.Screw, t, direction(t)})
	}
	return list
}

func direction(turns float64) string {
	if turns < 0 {
		return Anticlockwise
	}
	return Clockwise
}
