package plan

import (
	"fmt"
	"math"
	"strings"

	"burngauge.dev/burngauge/pkg/coverage"
)

// pointerParted names a red pointer that has left the beam: its dot surely lies off the
// burn, by its distance less its radius, which is the least that it can be off with 95 %. The
// worst station decides, since a pointer that is off by an angle parts from the beam in
// proportion to the way.
func (p *planner) pointerParted() *Finding {
	var worst reading
	most, count := 0.0, 0
	var sum [2]float64
	for _, r := range p.now.readings {
		if r.pointer == nil {
			continue
		}
		count++
		sum[0], sum[1] = sum[0]+r.pointer.place[0], sum[1]+r.pointer.place[1]
		if d := math.Hypot(r.pointer.place[0], r.pointer.place[1]) - r.pointer.radiusMM; d > most {
			most, worst = d, r
		}
	}
	if most < p.settings.Finding.PointerShare*p.limitMM {
		return nil
	}
	mean := [2]float64{sum[0] / float64(count), sum[1] / float64(count)}
	f := &Finding{
		Code: CodePointerParted,
		Text: "The red pointer has left the beam: do not aim by it. Set the beam first, then turn the pointer's own mount until its dot lies on the burn, far station first for its direction, near station for its place.",
		Evidence: fmt.Sprintf("seen from the burn the dot at %s lies %s (± %.2f mm), over %d stations on average %s", worst.station,
			inWords(worst.pointer.place, fromBurn), worst.pointer.radiusMM, count, inWords(mean, fromBurn)),
	}
	if turns := p.pointerTurns(); turns != "" {
		f.Evidence += "; " + turns
	}
	return f
}

// pointerTurns plans the pointer's own screws, so that its dot comes to lie on the
// burn: where the dot lies from the burn at each station is a spot of its own, of a machine
// whose first mirror is the pointer's plate (machine.Profile.OfPointer). Beam and dot share
// all mirrors behind it, so that in their difference these cancel to first order, and only
// the plate's two angles and its height are left. "" without a mount in the profile, or when
// the dots do not determine the turns.
func (p *planner) pointerTurns() string {
	profile, ok := p.profile.OfPointer()
	if !ok {
		return ""
	}
	e, err := newEstimator(profile, p.settings)
	if err != nil {
		return "" // machine check names what is wrong with the mount
	}
	now := round{readings: p.dots(), turned: make([]float64, e.screws()), last: make([]float64, e.screws())}
	known, err := e.believe([]round{now})
	if err != nil {
		return ""
	}
	dot := &task{belief: known, limitMM: p.limitMM, stations: p.stations, outlook: known.outlook(p.stations), noEdges: true}
	if !dot.determined() {
		return ""
	}
	turns, any := dot.byOneMirror(0, p.stations)
	if !any {
		return ""
	}
	var words []string
	for _, t := range dot.inOrder(turns) {
		words = append(words, fmt.Sprintf("%s %.4g turn %s", t.Screw, math.Abs(t.Turns), t.Direction))
	}
	_, worst := dot.outlook.worst(turns)
	return fmt.Sprintf("screws of the pointer's mount: %s; the dot should then lie within %.2f mm of the burn everywhere, if the beam stays", strings.Join(words, ", "), worst)
}

// dots are where the dot lies from the burn, as readings. The radius holds p = 95 % of a
// normal variable in the plane: √(-2 ln (1 - p)) of its deviation (Rayleigh's
// distribution).
func (p *planner) dots() (list []reading) {
	for _, r := range p.now.readings {
		if r.pointer == nil {
			continue
		}
		u := max(r.pointer.radiusMM/math.Sqrt(-2*math.Log(1-coverage.Sure)), p.settings.Reading.LeastMM)
		list = append(list, reading{station: r.station, place: r.pointer.place, covariance: coverage.Isotropic(u)})
	}
	return list
}
