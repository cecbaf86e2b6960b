package sheet

import (
	"strings"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/plan"
)

// example is a plan with something of everything.
func example() Sheet {
	return Sheet{Profile: machine.Default(), LimitMM: 2, Plan: plan.Plan{
		Schema: plan.SchemaPlan, Machine: "bed 900 x 600, riser at the rear left",
		Report: strings.Repeat("0123456789abcdef", 4), Status: plan.StatusTurn,
		Turns: []plan.Turn{
			{Mirror: "1", Screw: "A", Turns: 0.1875, Direction: "clockwise"},
			{Mirror: "1", Screw: "C", Turns: -0.03125, Direction: "anticlockwise"},
			{Mirror: "3", Screw: "B", Turns: -1.25, Direction: "anticlockwise"},
			{Mirror: "3", Screw: "B", Turns: 0.125, Direction: "clockwise"},
		},
		Predicted: []plan.Predicted{
			{Station: "rear-left", RightMM: -0.444, UpMM: 0.31, RadiusMM: 0.42, State: "inside"},
			{Station: "front-left", RightMM: 0.12, UpMM: -0.2, RadiusMM: 0.5, State: "inside"},
			{Station: "middle", RightMM: 1.62, UpMM: 0.8, RadiusMM: 0.61, State: "borderline"},
			{Station: "rear-right", RightMM: 3.1, UpMM: 0.02, RadiusMM: 0.7, State: "outside"},
			{Station: "front-right", RightMM: 0.22, UpMM: 0.42, RadiusMM: 0.66, State: "inside"},
		},
		Findings: []plan.Finding{{Code: "fourth-corner",
			Text:     "The fourth corner departs from what the other three lead to: the gantry is twisted or not square, and no mirror screw cures that.",
			Evidence: "rear-right lies 0.62 ± 0.11 mm to the right of where the other corners put it"}},
	}}
}

// of is example with another status and no turns.
func of(status string, fireNext ...string) Sheet {
	s := example()
	s.Plan.Status, s.Plan.FireNext = status, fireNext
	s.Plan.Turns = nil
	return s
}

// hostile is example with long and strange words wherever words come from elsewhere.
func hostile(word string) Sheet {
	s := example()
	s.Plan.Machine, s.Plan.Report = word, word
	s.Plan.Cautions = []string{word, "\x1b[31m\u202emirrored"}
	s.Plan.FireNext = []string{word, word}
	for i := range s.Plan.Predicted {
		s.Plan.Predicted[i].Station = word
		s.Plan.Predicted[i].State = word
	}
	for range 12 {
		s.Plan.Findings = append(s.Plan.Findings, plan.Finding{Code: word, Text: strings.Repeat(word+" ", 12), Evidence: word})
	}
	return s
}
