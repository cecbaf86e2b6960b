package sheet

import (
	"slices"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/plan"
)

// cautions are those that belong with every plan, whatever the file says, and
// below them what it says beyond.
func cautions(fromPlan []string) []string {
	out := plan.Cautions()
	for _, c := range fromPlan {
		if c = drawing.Plain(c); c != "" && !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out
}

// manner is how to turn a screw well: common practice of the trade.
var manner = []string{
	"See that the hex key fits, loosen the lock nut if there is one, and note where the key points before you turn.",
	"Turn slowly and count. When you went too far, go back past the mark and come to it again in the arrow’s direction: that takes the play out.",
	"Tighten the lock nut without turning the screw. Tightening can move the plate: the next marks show whether it did.",
}
