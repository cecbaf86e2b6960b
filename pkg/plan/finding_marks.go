package plan

import (
	"fmt"
	"strings"

	"burngauge.dev/burngauge/pkg/machine"
)

// clipped names where something cuts into the beam. An edge on the gantry shows at
// every x, one at the head not.
func (p *planner) clipped() *Finding {
	var cut, whole []reading
	for _, r := range p.now.readings {
		if r.clipped {
			cut = append(cut, r)
		} else {
			whole = append(whole, r)
		}
	}
	if len(cut) == 0 {
		return nil
	}
	var names []string
	for _, r := range cut {
		names = append(names, r.station)
	}
	return &Finding{
		Code:     CodeClipped,
		Text:     "Something cuts into the beam on its way; " + p.whereItCuts(cut, whole) + ". The mark's middle is pulled there, so its reading counts for less.",
		Evidence: "clipped marks at " + strings.Join(names, ", "),
	}
}

// whereItCuts says where the edge may be that cuts into the beam. What cuts at one
// place of the gantry whatever the head does stands before the head.
func (p *planner) whereItCuts(cut, whole []reading) string {
	gantry := p.onGantry()
	switch {
	case len(whole) == 0:
		return "it happens at every station, so the edge is before the gantry, the tube's end or a fixed mirror, whose spot should be looked at on tape; " +
			"or, when all marks lie off to the same side, at the head's bore"
	case gantry == "" || p.sameGantry(cut, whole):
		return "the edge is near the head: its bore or the target's own rim"
	case p.sameGantry(cut, nil):
		return fmt.Sprintf("it depends on how far the gantry is out, not on the head, so the edge is that of mirror %s, or of what stands before it", gantry)
	}
	return fmt.Sprintf("these marks do not show whether the edge is mirror %s's or at the head: fire beside one of them with the gantry where it is", gantry)
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

// sameGantry says whether a clipped station has one of the others, or without others
// another clipped one, at the same place of the gantry.
func (p *planner) sameGantry(cut, others []reading) bool {
	y := func(r reading) float64 { return p.place[p.response.Station(r.station)][1] }
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
