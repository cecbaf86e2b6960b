package plan

// layout says where in the vector of unknowns what stands. For each segment (a run of
// rounds that learn from each other) the field of the spots with no screw turned:
// constant, x, y, xy of each axis. Then the stations' own errors, the screws' gains
// over the profile's, the legs' lengths over the profile's less 1, and the play of
// each screw after an anticlockwise and after a clockwise last move, turns.
type layout struct{ segments, stations, screws, legs int }

// The field is what all that does not turn leaves at the stations: source, mirrors as they
// sit and the head's travel. A ray's spot is linear in the lengths of its legs, and two of
// these in x and in y of the head: hence 1, x, y; a twisted gantry adds xy. Right and up have
// coefficients of their own.

const (
	axes       = 2 // right and up
	fieldTerms = 4 // of each axis: 1, x, y, xy
	twistTerm  = 3 // of these xy
)

func (l layout) field(segment, axis int) int { return (axes*segment + axis) * fieldTerms }
func (l layout) own(station, axis int) int   { return l.field(l.segments, 0) + axes*station + axis }
func (l layout) gain(screw int) int          { return l.own(l.stations, 0) + screw }
func (l layout) leg(leg int) int             { return l.gain(l.screws) + leg }
func (l layout) play(screw int, last float64) int {
	if last > 0 {
		return l.leg(l.legs) + 2*screw + 1
	}
	return l.leg(l.legs) + 2*screw
}
func (l layout) size() int { return l.leg(l.legs) + 2*l.screws }

// spot is one axis of the spot at a station as coefficients of the unknowns. The spot
// is, with p_j the spot's way for a turn of screw j and p_jl the part of it that grows
// on leg l (machine.Response),
//
//	a + b x + c y + d xy + own + Σ_j (p_j gain_j + Σ_l p_jl length_l gain_j) turned_j + p_j play_j
//
// over the screws that were turned. gains are those about which the product of gain
// and length is made linear.
func (e *estimator) spot(l layout, r round, station, axis int, gains []float64) []float64 {
	c := make([]float64, l.size())
	x, y := e.place[station][0], e.place[station][1]
	copy(c[l.field(r.segment, axis):], []float64{1, x, y, x * y})
	c[l.own(station, axis)] = 1
	for j, turns := range r.turned {
		if r.last[j] != 0 {
			c[l.play(j, r.last[j])] += e.response.PerTurn[station][j][axis]
		}
		e.turn(c, l, turn{station, j, axis, turns, gains[j]})
	}
	return c
}

// turn is one screw's part in one axis of one spot.
type turn struct {
	station, screw, axis int
	turns, gain          float64
}

// turn adds what a screw's turn does to the spot, by gain and by lengths: the product
// (gain)(1 + length) turns p, made linear about the believed gain g and the length 0, is
// gain · turns p + length · g turns p_l.
func (e *estimator) turn(c []float64, l layout, t turn) {
	c[l.gain(t.screw)] += e.response.PerTurn[t.station][t.screw][t.axis] * t.turns
	for leg, part := range e.response.PerLeg[t.station][t.screw] {
		c[l.leg(leg)] += part[t.axis] * t.turns * t.gain
	}
}
