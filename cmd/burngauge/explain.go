package main

import (
	"fmt"

	"burngauge.dev/burngauge/pkg/report"
)

// writeExplanation writes the decisions below the table.
func (t *measureTally) writeExplanation() error {
	if _, err := fmt.Fprintln(t.streams.Out); err != nil {
		return err
	}
	return report.WriteExplanation(t.streams.Out, t.marks)
}
