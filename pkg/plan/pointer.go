package plan

import (
	"fmt"
	"math"
	"strings"

	"burngauge.dev/burngauge/pkg/coverage"
)

// pointerTurns plans the pointer's own screws, so that its dot comes to lie on the
// burn: the parting at each station is a spot of its own. "" without a mount in the
// profile, or when the partings do not tell enough.
func (p *planner) pointerTurns() string {
	profile, ok := p.profile.OfPointer()
	if !ok {
		return ""
	}
	b, err := newBench(profile)
	if err != nil {
		return "" // machine check names what is wrong with the mount
	}
	now := round{readings: p.partings(), turned: make([]float64, b.screws()), last: make([]float64, b.screws())}
	known, err := b.believe([]round{now})
	if err != nil {
		return ""
	}
	dot := &planner{belief: known, request: p.request, limit: p.limit, stations: p.stations, thin: true}
	dot.outlook = known.outlook(p.stations)
	if !dot.determined() || !dot.step(0, p.stations) {
		return ""
	}
	var words []string
	for _, t := range dot.listed() {
		words = append(words, fmt.Sprintf("%s %.4g turn %s", t.Screw, math.Abs(t.Turns), t.Direction))
	}
	_, worst := dot.outlook.worst(dot.turns)
	return fmt.Sprintf("screws of the pointer's mount: %s; the dot should then lie within %.2f mm of the burn everywhere, if the beam stays", strings.Join(words, ", "), worst)
}

// partings are where the dot lies from the burn, as readings.
func (p *planner) partings() (list []Reading) {
	for _, r := range p.now.readings {
		if r.Pointer == nil {
			continue
		}
		// The radius holds 95 % of a normal variable in the plane: √(-2 ln 0.05) of its deviation.
		u := max(r.Pointer.RadiusMM/math.Sqrt(-2*math.Log(1-coverage.Sure)), leastUMM)
		list = append(list, Reading{Station: r.Station, RightMM: r.Pointer.RightMM, UpMM: r.Pointer.UpMM, Covariance: coverage.Isotropic(u)})
	}
	return list
}
