package main

import (
	"regexp"
	"slices"

	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/terminal"
)

// reminder stands where someone is about to fire.
const reminder = `Fire as the machine's maker instructs; local rules and your laser safety officer come
first, and work with open covers is for trained people. Covers closed wherever the
machine allows it, nobody's face or hands near the beam's path, eyewear for 10 600 nm,
source switched to safe before you reach in. (burngauge help cautions)`

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
