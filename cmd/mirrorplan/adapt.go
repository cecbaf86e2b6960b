package main

import (
	"io"

	"burngauge.dev/burngauge/pkg/plan"
)

// Styles of a plan.
const (
	styleAll  = "all"
	styleWalk = "walk"
)

// style is how the plan's maker knows it.
func style(word string) string {
	if word == styleWalk {
		return styleWalk
	}
	return ""
}

// encode writes a plan as JSON.
func encode(w io.Writer, p plan.Plan) error { return p.Encode(w) }
