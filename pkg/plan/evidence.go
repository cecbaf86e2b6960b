package plan

import (
	"fmt"
	"math"
	"strings"

	"burngauge.dev/burngauge/pkg/machine"
)

// clipped tells where something cuts into the beam. An edge on the gantry shows at
// every x, one at the head not.
func (p *planner) clipped() *Finding {
	var cut, whole []Reading
	for _, r := range p.now.readings {
		if r.Clipped {
			cut = append(cut, r)
		} else {
			whole = append(whole, r)
		}
	}
	if len(cut) == 0 {
		return nil
	}
	return &Finding{
		Code:     "clipped",
		Text:     "Something cuts into the beam on its way; " + p.edge(cut, whole) + ". The mark's middle is pulled there, so its reading counts for less.",
		Evidence: "clipped marks at " + strings.Join(names(cut), ", "),
	}
}

// edge says where the edge may be that cuts into the beam. What cuts at one place of the
// gantry whatever the head does stands before the head.
func (p *planner) edge(cut, whole []Reading) string {
	gantry := p.onGantry()
	switch {
	case len(whole) == 0:
		return "it happens at every station, so the edge is before the gantry, the tube's end or a fixed mirror, whose spot should be looked at on tape; " +
			"or, when all marks lie off to the same side, at the head's bore"
	case gantry == "" || p.shared(cut, whole):
		return "the edge is near the head: its bore or the target's own rim"
	case p.shared(cut, nil):
		return fmt.Sprintf("it depends on how far the gantry is out, not on the head, so the edge is that of mirror %s, or of what stands before it", gantry)
	}
	return fmt.Sprintf("these marks cannot tell whether the edge is mirror %s's or at the head: fire beside one of them with the gantry where it is", gantry)
}

func names(list []Reading) (out []string) {
	for _, r := range list {
		out = append(out, r.Station)
	}
	return out
}

// onGantry is the name of a mirror that rides on the gantry, "" when there is none.
func (p *planner) onGantry() string {
	for _, m := range p.profile.Mirrors {
		if m.Rides == machine.Gantry {
			return m.Name
		}
	}
	return ""
}

// shared says whether a clipped station has one of the others, or without others
// another clipped one, at the same place of the gantry.
func (p *planner) shared(cut, others []Reading) bool {
	y := func(r Reading) float64 { return p.place[p.response.Station(r.Station)][1] }
	for i, c := range cut {
		among := others
		if others == nil {
			among = cut[i+1:]
		}
		for _, o := range among {
			if y(c) == y(o) {
				return true
			}
		}
	}
	return false
}

// fromBurn are the directions on the target, seen from the burn.
var fromBurn = [2][2]string{{"left", "right"}, {"below", "above"}}

// parted tells a pointer that has left the beam.
func (p *planner) parted() *Finding {
	var worst Reading
	most, count := 0.0, 0
	var sum [2]float64
	for _, r := range p.now.readings {
		if r.Pointer == nil {
			continue
		}
		count++
		sum[0], sum[1] = sum[0]+r.Pointer.RightMM, sum[1]+r.Pointer.UpMM
		if d := math.Hypot(r.Pointer.RightMM, r.Pointer.UpMM) - r.Pointer.RadiusMM; d > most {
			most, worst = d, r
		}
	}
	if most < tellShare*p.limit {
		return nil
	}
	mean := [2]float64{sum[0] / float64(count), sum[1] / float64(count)}
	f := &Finding{
		Code: "pointer-parted",
		Text: "The red pointer has left the beam: do not aim by it. Set the beam first, then turn the pointer's own mount until its dot lies on the burn, far station first for its direction, near station for its place.",
		Evidence: fmt.Sprintf("seen from the burn the dot at %s lies %s (± %.2f mm), over %d stations on average %s", worst.Station,
			words([2]float64{worst.Pointer.RightMM, worst.Pointer.UpMM}, fromBurn),
			worst.Pointer.RadiusMM, count, words(mean, fromBurn)),
	}
	if turns := p.pointerTurns(); turns != "" {
		f.Evidence += "; " + turns
	}
	return f
}

// atTheStop tells screws that the plan brings to the end of their travel.
func (p *planner) atTheStop() *Finding {
	var list []string
	for j, t := range p.turns {
		m := p.mount(j)
		if t != 0 && math.Abs(p.now.turned[j]+t) > m.TravelTurns-1.5*m.SmallestTurn {
			list = append(list, p.response.Screws[j].String())
		}
	}
	if len(list) == 0 {
		return nil
	}
	return &Finding{
		Code:     "travel-used-up",
		Text:     "A screw comes to the end of its travel. Loosen the mount and set it anew, or move the part that the other findings name, with the screws back in the middle of their travel.",
		Evidence: strings.Join(list, "; ") + ", counted from the first report of this plan",
	}
}

// gainShare is how far a learnt gain must be from the profile's to be told: more than
// a person sets a screw amiss.
const gainShare = 0.2

// pullsAmiss tells screws that the past rounds show to move the spots otherwise than
// the profile says.
func (p *planner) pullsAmiss() *Finding {
	var list []string
	l := p.learnt()
	for j, screw := range l.Screws {
		own := p.mount(j).Points[j%3].Pull()
		if gain, u := l.Gain[j]/own, l.U[j]/own; l.New[j] && math.Abs(gain-1) >= max(gainShare, 2*u) {
			list = append(list, fmt.Sprintf("%s: %.2f ± %.2f", screw, gain, 2*u))
		}
	}
	if len(list) == 0 {
		return nil
	}
	return &Finding{
		Code:     "screw-gain",
		Text:     "Past rounds show screws that move the spots more or less than the profile says: a worn or another thread, or a length in the profile that is wrong. This plan takes it into account; mirrorplan learn keeps it for the next visit.",
		Evidence: "times what the profile says: " + strings.Join(list, "; "),
	}
}
