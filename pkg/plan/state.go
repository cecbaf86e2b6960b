package plan

import (
	"fmt"
	"math"

	"burngauge.dev/burngauge/pkg/machine"
)

// What is known of a machine before any reading, as standard uncertainties.
const (
	fieldUMM   = 20.0 // of the spots' plane over the bed: nothing is known
	cornerUMM  = 0.08 // of the coefficient of x times y, a quarter of the fourth corner's error: a gantry's twist is some tenths
	stationUMM = 0.05 // of what no plane and no twist explains: rails that wave
	// GainU is that of each screw's gain where nothing was learnt: a thread of the
	// next finer size, or a plate that is held elsewhere than the profile says.
	GainU   = 0.3
	lengthU = 0.04 // of each leg's length over the profile's: a rule laid along a machine with covers
	// playUTurns is that of the play which a screw's first turn takes up; weak springs
	// lose some hundredths of a turn (common practice, no source).
	playUTurns = 0.02
	repeatMM   = 0.03 // how well the head comes back to a station, each axis
)

// settingU is the standard uncertainty of a hand's turn over the finest turn that
// it can set: evenly within a quarter of it either way.
var settingU = 0.25 / math.Sqrt(3)

// bench is a machine's geometry laid out for linear algebra.
type bench struct {
	profile  machine.Profile
	response *machine.Response
	place    [][2]float64 // of each station, -1..1 over the bed
	// What the readings themselves show of the bed's shape, where that is more than
	// what is expected beforehand: standard uncertainties for the prior.
	cornerU, ownU float64
}

func newBench(p machine.Profile) (*bench, error) {
	r, err := p.Response()
	if err != nil {
		return nil, fmt.Errorf("machine profile: %w", err)
	}
	b := &bench{profile: p, response: r, place: make([][2]float64, len(p.Stations)), cornerU: cornerUMM, ownU: stationUMM}
	x := make([]float64, len(p.Stations))
	y := make([]float64, len(p.Stations))
	for i, s := range p.Stations {
		x[i], y[i] = s.XMM, s.YMM
	}
	x, y = spanned(x), spanned(y)
	for i := range b.place {
		b.place[i] = [2]float64{x[i], y[i]}
	}
	return b, nil
}

// spanned maps numbers to -1..1, all to 0 when they are the same.
func spanned(v []float64) []float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, x := range v {
		low, high = min(low, x), max(high, x)
	}
	out := make([]float64, len(v))
	for i, x := range v {
		if high > low {
			out[i] = (2*x - low - high) / (high - low)
		}
	}
	return out
}

func (b *bench) stations() int { return len(b.response.Stations) }
func (b *bench) screws() int   { return len(b.response.Screws) }
func (b *bench) legs() int     { return len(b.profile.Mirrors) + 1 }

// travel of a screw, finest turn, by its place in Response.Screws.
func (b *bench) mount(screw int) machine.Screws { return b.profile.Mirrors[screw/3].Screws }

// settingUTurns is how well a hand sets a screw.
func (b *bench) settingUTurns(screw int) float64 { return settingU * b.mount(screw).SmallestTurn }

// gainU is the relative standard uncertainty of a screw's gain beforehand.
func (b *bench) gainU(screw int) float64 {
	s := b.mount(screw).Points[screw%3]
	if s.Gain == 0 || s.GainU == 0 {
		return GainU
	}
	return s.GainU / s.Gain
}

// round is one set of readings, and how the screws stood then.
type round struct {
	readings []Reading
	turned   []float64 // each screw's turns since the first round
	last     []float64 // the last move of each, turns; 0: never turned
	segment  int       // rises where a past round contradicts everything
}

// layout tells where in the vector of unknowns what stands. For each segment the
// field of the spots with no screw turned: constant, x, y, xy of each axis. Then the
// stations' own errors, the screws' gains over the profile's, the legs' lengths
// over the profile's less 1, and the play of each screw after an anticlockwise and
// after a clockwise last move, turns.
type layout struct{ segments, stations, screws, legs int }

const fieldTerms = 4

func (l layout) field(segment, axis int) int { return (2*segment + axis) * fieldTerms }
func (l layout) own(station, axis int) int   { return l.field(l.segments, 0) + 2*station + axis }
func (l layout) gain(screw int) int          { return l.own(l.stations, 0) + screw }
func (l layout) leg(leg int) int             { return l.gain(l.screws) + leg }
func (l layout) play(screw int, last float64) int {
	if last > 0 {
		return l.leg(l.legs) + 2*screw + 1
	}
	return l.leg(l.legs) + 2*screw
}
func (l layout) size() int { return l.leg(l.legs) + 2*l.screws }

// spot is the spot at a station as coefficients of the unknowns. gains are those
// about which the product of gain and length is made linear.
func (b *bench) spot(l layout, r round, station, axis int, gains []float64) []float64 {
	c := make([]float64, l.size())
	x, y := b.place[station][0], b.place[station][1]
	copy(c[l.field(r.segment, axis):], []float64{1, x, y, x * y})
	c[l.own(station, axis)] = 1
	for j, turns := range r.turned {
		if r.last[j] != 0 {
			c[l.play(j, r.last[j])] += b.response.PerTurn[station][j][axis]
		}
		b.turn(c, l, turn{station, j, axis, turns, gains[j]})
	}
	return c
}

// turn is one screw's part in one spot.
type turn struct {
	station, screw, axis int
	turns, gain          float64
}

// turn adds what a screw's turn does to the spot, by gain and by lengths.
func (b *bench) turn(c []float64, l layout, t turn) {
	c[l.gain(t.screw)] += b.response.PerTurn[t.station][t.screw][t.axis] * t.turns
	for leg, part := range b.response.PerLeg[t.station][t.screw] {
		c[l.leg(leg)] += part[t.axis] * t.turns * t.gain
	}
}

// prior adds what is known beforehand.
func (b *bench) prior(l layout, to *rows) {
	know := func(at int, value, u float64) {
		c := make([]float64, l.size())
		c[at] = 1
		to.add(c, value, u)
	}
	for i := range l.own(0, 0) {
		u := fieldUMM
		if i%fieldTerms == fieldTerms-1 {
			u = b.cornerU
		}
		know(i, 0, u)
	}
	for i := l.own(0, 0); i < l.gain(0); i++ {
		know(i, 0, b.ownU)
	}
	for j := range l.screws {
		know(l.gain(j), 1, b.gainU(j))
		know(l.play(j, -1), 0, playUTurns)
		know(l.play(j, +1), 0, playUTurns)
	}
	for i := range l.legs {
		know(l.leg(i), 0, lengthU)
	}
}
