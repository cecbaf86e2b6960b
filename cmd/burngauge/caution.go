package main

import (
	"regexp"
	"slices"

	"burngauge.dev/burngauge/pkg/caution"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// reminder stands where someone is about to fire.
var reminder = caution.Reminder(caution.Firing, "burngauge help cautions", command.HelpWidth)

// firing are the words by which a refusal or a warning asks for another test mark.
var firing = regexp.MustCompile(`(?i)\b(fire|pulse)\b`)

// asksToFire reports whether what is said of the measurement asks for another test
// mark.
func asksToFire(m report.Measurement) bool {
	says := func(w report.Warning) bool { return firing.MatchString(w.Text) }
	return m.Refusal != nil && firing.MatchString(m.Refusal.Text) || slices.ContainsFunc(m.Warnings, says)
}

// remindToFireSafely refers to the cautions below what asked to fire.
func remindToFireSafely(streams terminal.Streams) {
	streams.Note("before you fire again, as the machine's maker instructs: burngauge help cautions")
}
