package plan

import (
	"math"

	"burngauge.dev/burngauge/pkg/coverage"
)

// step is one of the hand procedure: what a station shows is put on a mirror.
type step struct{ mirror, station int }

// steps are those of common practice: an error at the station nearest to the
// second mirror is put on the first, one at the far end of the gantry's travel on the
// second, one at the far end of the head's on the third. In general a mirror is
// judged where the leg behind it is longest; where that leg does not change, where
// the rest of the way is shortest.
func (p *planner) steps() (list []step) {
	for m := range p.profile.Mirrors {
		best, longest, rest := -1, math.Inf(-1), math.Inf(1)
		for _, k := range p.stations {
			own, after := p.way(k, m)
			const same = 1e-6 // mm
			if own > longest+same || own > longest-same && after < rest-same {
				best, longest, rest = k, own, after
			}
		}
		list = append(list, step{m, best})
	}
	last := &list[len(list)-1]
	last.station = p.farthest(last.mirror)
	return list
}

// way is the length of the leg behind a mirror at a station, and of all after it.
func (p *planner) way(station, mirror int) (own, after float64) {
	path, err := p.profile.Trace(p.response.Stations[station])
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

// farthest is the station with the worst spot of those with the longest leg behind
// the last mirror, within a tenth.
func (p *planner) farthest(mirror int) (best int) {
	longest := 0.0
	for _, k := range p.stations {
		own, _ := p.way(k, mirror)
		longest = max(longest, own)
	}
	worst := -1.0
	for _, k := range p.stations {
		own, _ := p.way(k, mirror)
		mean, _ := p.spotNow(k)
		if d := math.Hypot(mean[0], mean[1]); own >= 0.9*longest && d > worst {
			best, worst = k, d
		}
	}
	return best
}

// walkOn takes the first step whose station is not yet good. A station that must
// be fired at first is told instead.
func (p *planner) walkOn() (status string, fire []string) {
	list := p.steps()
	for _, s := range list {
		r := p.reading(s.station)
		mean, cov := p.spotNow(s.station)
		if r == nil && coverage.Within([2]float64{}, cov, p.limit) < coverage.Sure {
			return StatusFire, []string{p.response.Stations[s.station]}
		}
		state := coverage.State(coverage.Within(mean, cov, p.limit))
		if r != nil {
			state = r.state(p.limit)
		}
		if state != coverage.Inside && p.step(s.mirror, []int{s.station}) {
			return StatusTurn, nil
		}
	}
	if _, missing := p.asItIs(); len(missing) > 0 && !p.determined() {
		return StatusFire, p.tellMost(missing, false)
	}
	// Every step's own station is good and another is not: the last mirror must do for all.
	if p.step(list[len(list)-1].mirror, p.stations) {
		return StatusTurn, nil
	}
	p.hopeless = true
	return StatusBeyond, nil
}

// step turns one mirror so that its stations' spots come to the centre, and says
// whether there was anything to turn.
func (p *planner) step(mirror int, stations []int) bool {
	g := p.goal(p.belief.outlook(stations), 0)
	var starts [][]int
	for left := range 3 {
		a, b := 3*mirror+(left+1)%3, 3*mirror+(left+2)%3
		starts = append(starts, []int{min(a, b), max(a, b)})
	}
	best := g.search(starts)
	p.turns = best.full(p.screws())
	return len(best.support) > 0
}
