package plan

import (
	"math"

	"burngauge.dev/burngauge/pkg/coverage"
)

// handStep is one of the procedure by hand: what a station shows is put on a mirror.
type handStep struct{ mirror, station int }

// A mirror turned by δ moves the spot by 2δ times the way from it to the target. Where the
// leg behind a mirror is longest that mirror moves the spot most against those after it,
// whose own ways are the shorter part: there an error is put on it. Done mirror by mirror,
// again and again, this converges when each step's ratio of ways is below 1: on two mirrors
// A apart with targets B and B + C behind them by B(A+B+C)/((A+B)(B+C)) a cycle.

// handSteps are those of common practice: an error at the station nearest to the
// second mirror is put on the first, one at the far end of the gantry's travel on the
// second, one at the far end of the head's on the third. In general a mirror is
// judged where the leg behind it is longest; where that leg does not change, where
// the rest of the way is shortest.
func (t *task) handSteps() (list []handStep) {
	same := t.settings.Hand.SameMM
	for m := range t.profile.Mirrors {
		best, longest, rest := -1, math.Inf(-1), math.Inf(1)
		for _, k := range t.stations {
			own, after := t.way(k, m)
			if own > longest+same || own > longest-same && after < rest-same {
				best, longest, rest = k, own, after
			}
		}
		list = append(list, handStep{m, best})
	}
	last := &list[len(list)-1]
	last.station = t.farEnd(last.mirror)
	return list
}

// way is the length of the leg behind a mirror at a station, and of all after it, mm.
func (t *task) way(station, mirror int) (own, after float64) {
	path, err := t.profile.Trace(t.response.Stations[station])
	if err != nil { // the response was derived from the same path
		return math.NaN(), math.NaN()
	}
	for leg := mirror + 1; leg < len(path.Points)-1; leg++ {
		if leg == mirror+1 {
			own = path.LengthMM(leg)
		} else {
			after += path.LengthMM(leg)
		}
	}
	return own, after
}

// farEnd is the station with the worst spot of those at the far end of the leg behind
// a mirror: where the leg is at least LongShare of the longest. All of them show that mirror
// about equally, so that the one with most to put right is taken.
func (t *task) farEnd(mirror int) (best int) {
	longest := 0.0
	for _, k := range t.stations {
		own, _ := t.way(k, mirror)
		longest = max(longest, own)
	}
	worst := -1.0
	for _, k := range t.stations {
		own, _ := t.way(k, mirror)
		mean, _ := t.spotNow(k)
		if d := math.Hypot(mean[0], mean[1]); own >= t.settings.Hand.LongShare*longest && d > worst {
			best, worst = k, d
		}
	}
	return best
}

// notGood says whether a step's station is not yet good, by its reading, or without
// one by what is believed; and whether it must be fired at before that can be said.
func (t *task) notGood(station int) (bad, fire bool) {
	if r := t.reading(station); r != nil {
		return r.state(t.limitMM) != coverage.Inside, false
	}
	mean, cov := t.spotNow(station)
	if coverage.Within([2]float64{}, cov, t.limitMM) < coverage.Sure {
		return false, true
	}
	return coverage.State(coverage.Within(mean, cov, t.limitMM)) != coverage.Inside, false
}

// nextByHand takes the first step whose station is not yet good, or asks for a fire at
// the one that must be known first.
func (p *planner) nextByHand() (status string, fire []string) {
	list := p.handSteps()
	for _, s := range list {
		bad, unknown := p.notGood(s.station)
		if unknown {
			return StatusFire, []string{p.response.Stations[s.station]}
		}
		if bad && p.turnOne(s.mirror, []int{s.station}) {
			return StatusTurn, nil
		}
	}
	if _, missing := p.asItIs(); len(missing) > 0 && !p.determined() {
		return StatusFire, p.fireNext(missing, false)
	}
	// Every step's own station is good and another is not: the last mirror must do for all.
	if p.turnOne(list[len(list)-1].mirror, p.stations) {
		return StatusTurn, nil
	}
	p.beyond = true
	return StatusBeyond, nil
}

// turnOne turns one mirror for some stations, and says whether there was anything to
// turn.
func (p *planner) turnOne(mirror int, stations []int) bool {
	turns, any := p.byOneMirror(mirror, stations)
	if any {
		p.turns = turns
	}
	return any
}
