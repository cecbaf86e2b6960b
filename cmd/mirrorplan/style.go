package main

import (
	"io"

	"burngauge.dev/burngauge/pkg/plan"
)

// Styles of a plan.
const (
	styleAll  = "all"
	styleWalk = plan.StyleWalk
)

// style is how the plan's maker knows it.
func style(word string) string {
	if word == styleWalk {
		return plan.StyleWalk
	}
	return plan.StyleWhole
}

// encode writes a plan as JSON.
func encode(w io.Writer, p plan.Plan) error { return p.Encode(w) }
