package sheet

import (
	"fmt"
	"strings"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/plan"
	"burngauge.dev/burngauge/pkg/report"
)

// Sheet is a plan with what is needed to show it.
type Sheet struct {
	Plan    plan.Plan
	Profile machine.Profile // the machine that the plan is for: its mounts are drawn
	LimitMM float64         // circle that the spots are to reach, 0: not stated
	Units   report.Units    // "" is mm
	Paper   string          // one of drawing.Papers, for PDF and SVG; "" is A4
}

// InputError says why no sheet can be made of a plan.
type InputError struct{ Text string }

// Error is one line.
func (e *InputError) Error() string { return e.Text }

// check finds what could not be drawn: a turn of a screw that the machine does
// not have.
func (s Sheet) check() error {
	for i, t := range s.Plan.Turns {
		if s.Profile.Mirror(t.Mirror) < 0 || screwIndex(t.Screw) < 0 {
			return &InputError{fmt.Sprintf("turns[%d]: the machine %q has no screw %q on a mirror %q: give the profile that the plan was made for",
				i, s.Profile.Name, t.Screw, t.Mirror)}
		}
	}
	if _, ok := drawing.Paper(s.Paper); !ok && s.Paper != "" {
		return &InputError{fmt.Sprintf("there is no paper %q: take %s", s.Paper, strings.Join(drawing.Papers(), " or "))}
	}
	return nil
}

// screwIndex is the screw's place in machine.ScrewNames, -1 when there is none.
func screwIndex(name string) int {
	for i, n := range machine.ScrewNames {
		if n == name {
			return i
		}
	}
	return -1
}
