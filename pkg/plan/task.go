package plan

import (
	"slices"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/plan/search"
	"burngauge.dev/burngauge/pkg/report"
)

// task is what is to be brought where: the stations whose spots must lie within the
// limit, and what mounts and mirrors allow.
type task struct {
	*belief
	limitMM  float64
	stations []int // that must be good, places in the response
	outlook  *outlook
	lean     []float64 // of the mirrors now, as turns of each screw: see leanOf
	noEdges  bool      // a pointer's ray: no mirror's edge is in its way
}

// newTask takes the stations that the report expects, all of the profile when it
// expects none.
func newTask(known *belief, r *report.Report, limitMM float64) (*task, error) {
	t := &task{belief: known, limitMM: limitMM}
	for k, name := range t.response.Stations {
		if len(r.Expected) == 0 || slices.Contains(r.Expected, name) {
			t.stations = append(t.stations, k)
		}
	}
	if len(t.stations) == 0 {
		return nil, &UnknownError{"the machine profile has none of the stations that the report expects: give the profile of this machine"}
	}
	t.outlook = known.outlook(t.stations)
	var err error
	t.lean, err = t.leanOf()
	return t, err
}

// reading finds the current reading at a station, nil when there is none.
func (t *task) reading(station int) *reading {
	for i, r := range t.now.readings {
		if r.station == t.response.Stations[station] {
			return &t.now.readings[i]
		}
	}
	return nil
}

// asItIs says whether there are readings and every measured station is surely good,
// and which stations are not measured. Borderline is not yet good.
func (t *task) asItIs() (good bool, missing []int) {
	good = len(t.now.readings) > 0
	for _, k := range t.stations {
		switch r := t.reading(k); {
		case r == nil:
			missing = append(missing, k)
		case r.state(t.limitMM) != coverage.Inside:
			good = false
		}
	}
	return good, missing
}

// goal is the outlook's, with what the mounts and mirrors allow filled in. A screw's
// travel T counts from where it stood at the first report, and s turns of it are done: the
// turn t must obey -T <= s + t <= T, and downward it must leave room p for going past and
// coming back,
//
//	-T - s + p <= t <= T - s.
func (t *task) goal(o *outlook, caution float64) *search.Goal {
	g := o.goal(caution)
	g.Settings = t.settings.Search
	g.ScrewMM = g.Settings.ScrewShare * t.limitMM
	for j := range t.screws() {
		m := t.mount(j)
		g.Step = append(g.Step, m.SmallestTurn)
		g.Low, g.High = append(g.Low, -m.TravelTurns-t.now.turned[j]+t.pastTurns(j)), append(g.High, m.TravelTurns-t.now.turned[j])
	}
	if t.noEdges {
		return g
	}
	for m, mirror := range t.profile.Mirrors {
		for _, k := range t.stations {
			g.Edges = append(g.Edges, t.edge(k, m, mirror.ClearMM))
		}
	}
	return g
}

// starts are the sets of screws that a search begins with: two of each mirror's three, which
// tilt it every way, and all of them, since three together also shift the plate along its
// normal.
func (t *task) starts() [][]int {
	return append(search.Pairs(len(t.profile.Mirrors), t.pivots()), t.allScrews())
}

// allScrews are the places of all screws.
func (t *task) allScrews() (list []int) {
	for j := range t.screws() {
		list = append(list, j)
	}
	return list
}

// byOneMirror turns one mirror so that its stations' spots come to the centre as far as
// is believed. It says whether there is anything to turn.
func (t *task) byOneMirror(mirror int, stations []int) (turns []float64, any bool) {
	best := t.goal(t.belief.outlook(stations), 0).Best(search.PairsOf(mirror))
	return best.All(t.screws()), len(best.Screws) > 0
}

// unreachable says whether no turns bring every station within the limit, even if
// every screw does exactly what is believed of it. turns are the best that were found. The
// proof that none do is taken without whole steps and without caution, which is the easier
// problem: where that has no solution within travel and edges, neither has the real one.
func (t *task) unreachable(turns []float64) bool {
	if _, worst := t.outlook.worst(turns); worst <= t.limitMM {
		return false
	}
	g := t.goal(t.outlook, 0)
	c := g.Unrounded(t.allScrews())
	_, worst := t.outlook.worst(c.All(t.screws()))
	return worst > t.limitMM || g.Excess(c.Screws, c.Turns) > t.settings.Turn.ExcessTolerance
}
