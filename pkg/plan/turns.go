package plan

// Directions of a turn, seen from the screw's head.
const (
	Clockwise     = "clockwise"
	Anticlockwise = "anticlockwise"
)

// inOrder are the turns to do, mirror by mirror in the order of the beam. An
// anticlockwise turn goes past its end and comes back, so that what play there is lies
// on the same side for every screw: t < 0 becomes t - p and then +p, with p of pastTurns,
// which must be more than the play. Two turns that each end clockwise then move the plate by
// exactly what the screw moves between their ends.
func (g *geometry) inOrder(turns []float64) (list []Turn) {
	for j, t := range turns {
		if t == 0 {
			continue
		}
		name := g.response.Screws[j]
		if back := g.pastTurns(j); t < 0 && back > 0 {
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
