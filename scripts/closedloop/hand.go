package main

import (
	"math"
	"math/rand/v2"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
)

// The procedure by hand, as common practice has it (no source): an error at the
// station nearest the second mirror goes onto the first, at the far end of the
// gantry's travel onto the second, at the far end of the head's onto the third;
// round and round until all stations look good. The hand is a practised one: it
// knows the nominal effect of a screw.
const (
	eyeMM     = 0.3     // standard uncertainty of a look, each axis: a guess of half a millimetre
	pleasedMM = 1.0     // the look that ends the turning at one station
	eyeStep   = 1. / 16 // a turn by feel, in turns
	tries     = 6       // at one station before going on
	cycles    = 12      // before giving up
)

// hand is one technician at one machine.
type hand struct {
	bench    *rehearsal.Bench
	response *machine.Response
	dice     *rand.Rand
	fires    int
	touches  int
}

// handSteps are where each mirror of the starter profile is judged.
var handSteps = []struct {
	mirror  int
	station string
}{{0, "rear-left"}, {1, "front-left"}, {2, "front-right"}}

// handRun is what the procedure took on one machine.
type handRun struct {
	worst   []float64 // mm, true, before any round and after each
	fires   int
	touches int
}

// after is the worst station after so many rounds; a machine that was done before
// stays as it was.
func (r handRun) after(rounds int) float64 { return r.worst[min(rounds, len(r.worst)-1)] }

// byHand runs the procedure on one machine. A round is one pass over the mirrors, with
// the look at every station before it.
func byHand(seed uint64, level rehearsal.Level) (handRun, error) {
	bench, err := rehearsal.NewBench(machine.Default(), seed, level)
	if err != nil {
		return handRun{}, err
	}
	response, err := bench.Profile.Response()
	if err != nil {
		return handRun{}, err
	}
	out := handRun{worst: []float64{worst(bench)}}
	h := &hand{bench: bench, response: response, dice: rand.New(rand.NewPCG(seed, 11))}
	for range cycles {
		if h.content() {
			break
		}
		for _, s := range handSteps {
			h.settle(s.mirror, response.Station(s.station))
		}
		out.worst = append(out.worst, worst(bench))
	}
	out.fires, out.touches = h.fires, h.touches
	return out, nil
}

// look fires at a station and looks at the mark.
func (h *hand) look(station int) [2]float64 {
	h.fires++
	s := h.bench.Spots()[station]
	if s.Missing { // seen on the tape beside the target
		return [2]float64{s.RightMM, s.UpMM}
	}
	return [2]float64{s.RightMM + eyeMM*h.dice.NormFloat64(), s.UpMM + eyeMM*h.dice.NormFloat64()}
}

// content fires at every station, until one does not look good.
func (h *hand) content() bool {
	for k := range h.response.Stations {
		if v := h.look(k); math.Hypot(v[0], v[1]) > limitMM {
			return false
		}
	}
	return true
}

// settle turns one mirror until its station looks good: a screw, a fire, a look.
func (h *hand) settle(mirror, station int) {
	for range tries {
		v := h.look(station)
		if !(math.Hypot(v[0], v[1]) > pleasedMM) || !h.turn(mirror, station, v) {
			return
		}
	}
}

// turn turns the screw that lessens the error most, if any does.
func (h *hand) turn(mirror, station int, v [2]float64) bool {
	best, by, least := -1, 0.0, math.Hypot(v[0], v[1])
	for s := range 3 {
		r := h.response.PerTurn[station][3*mirror+s]
		turns := -(v[0]*r[0] + v[1]*r[1]) / (r[0]*r[0] + r[1]*r[1])
		turns = eyeStep * math.Round(turns/eyeStep)
		if d := math.Hypot(v[0]+turns*r[0], v[1]+turns*r[1]); turns != 0 && d < least {
			best, by, least = s, turns, d
		}
	}
	if best < 0 {
		return false
	}
	name := h.response.Screws[3*mirror+best]
	if h.bench.Turn(name.Mirror, name.Screw, by) != nil { // the screw is at its end
		return false
	}
	h.touches++
	return true
}
