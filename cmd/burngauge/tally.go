package main

import (
	"errors"
	"fmt"
	"strings"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/measure"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/terminal"
)

// tally counts what the exit code of a command that measures must say.
type tally struct {
	streams  terminal.Streams
	progress *terminal.Progress

	photos      int
	notMeasured []string // photos
	overlayErr  error    // the first
	toFire      bool     // whether something asks for another test mark
}

// measureTally takes the photos' results in order, writes them, and remembers
// what the exit code must say.
type measureTally struct {
	tally
	o       *measureOptions
	labels  []string             // what each photo is called towards people
	marks   []report.Measurement // all, but for --ndjson
	outside []string             // photos
}

// count takes one photo's result in: the first thing to do with it. The
// progress line is empty afterwards; progress.Done shows it again.
func (t *tally) count(name string, m measured) {
	t.photos++
	if anyMark(m.marks, func(r report.Measurement) bool { return r.Status != report.Measured }) {
		t.notMeasured = append(t.notMeasured, name)
	}
	t.toFire = t.toFire || anyMark(m.marks, asksToFire)
	t.progress.Clear()
	if m.overlayErr != nil {
		t.streams.Report(m.overlayErr)
		if t.overlayErr == nil {
			t.overlayErr = m.overlayErr
		}
	}
}

// take is called with each photo's result in turn.
func (t *measureTally) take(i int, m measured) error {
	name := t.labels[i]
	t.count(name, m)
	defer func() { t.progress.Done(t.photos) }()
	if anyMark(m.marks, isOutside) {
		t.outside = append(t.outside, name)
	}
	if t.o.json || t.o.ndjson {
		t.noteRefusals(name, m.marks)
	}
	if !t.o.json && !t.o.ndjson {
		for i := range m.marks {
			m.marks[i].Photo.File = name
		}
	}
	if !t.o.ndjson {
		t.marks = append(t.marks, m.marks...)
		return nil
	}
	for _, r := range m.marks {
		if err := report.WriteNDJSON(t.streams.Out, r); err != nil {
			return terminal.NotWritten(err)
		}
	}
	return nil
}

func isOutside(m report.Measurement) bool {
	return m.Verdict != nil && m.Verdict.State == coverage.Outside
}

// noteRefusals prints the refusals that the JSON holds: whoever runs it sees the
// standard error only. The table says it itself. What holds for both marks of a
// photo is said once.
func (t *tally) noteRefusals(name string, marks []report.Measurement) {
	said := ""
	for _, m := range marks {
		if m.Refusal == nil || m.Refusal.Text == said {
			continue
		}
		said = m.Refusal.Text
		t.streams.Note("%s: %s (%s)", report.OneLine(name), said, m.Refusal.Code)
	}
}

// anyMark reports whether one of the marks is so.
func anyMark(marks []report.Measurement, is func(report.Measurement) bool) bool {
	for _, m := range marks {
		if is(m) {
			return true
		}
	}
	return false
}

// writeDocument writes what is written in one piece: the table or the JSON
// document.
func (t *measureTally) writeDocument() error {
	var err error
	switch {
	case t.o.json:
		err = report.WriteJSON(t.streams.Out, t.marks)
	case !t.o.ndjson:
		err = report.WriteTable(t.streams.Out, t.marks, report.Units(t.o.units))
		if err == nil && t.o.explain {
			err = t.writeExplanation()
		}
	}
	if err != nil {
		return terminal.NotWritten(err)
	}
	if t.toFire {
		remindToFireSafely(t.streams)
	}
	return nil
}

// errOverlays is the failure when an overlay is missing, whose error was printed before.
var errOverlays = terminal.Fail(terminal.ExitNotWritten, errors.New("not every overlay was written"), "")

// failure is what the exit code must say when all is done. A file that was not
// written comes first, as it can be cured; a mark outside, which is only asked
// for with --fail-outside, comes before photos that say nothing.
func (t *measureTally) failure() error {
	switch {
	case t.overlayErr != nil:
		return errOverlays
	case t.o.failOutside && len(t.outside) > 0:
		return outsideFailure(t.outside, t.unmeasured())
	case len(t.notMeasured) > 0:
		return terminal.Fail(terminal.ExitNotMeasured, errors.New(t.unmeasured()), "burngauge help photos")
	}
	return nil
}

// unmeasured counts the photos that say nothing, and names the few.
func (t *measureTally) unmeasured() string {
	switch n := len(t.notMeasured); n {
	case 0:
		return ""
	default:
		text := fmt.Sprintf("%d of %s not measured%s", n, count(t.photos, "photo", "photos"), forBoth(t.o.mark))
		if names := few(t.notMeasured); names != "" {
			text += ": " + names
		}
		return text
	}
}

// mostNamed is how many photos one line names: more are found sooner in the table.
const mostNamed = 3

// few names the photos, "" when they are too many for one line.
func few(names []string) string {
	if len(names) > mostNamed {
		return ""
	}
	return strings.Join(names, ", ")
}

// outsideFailure names what is outside the limit, then what else went wrong, if
// anything did.
func outsideFailure(outside []string, more string) error {
	text := "outside the limit: " + strings.Join(outside, ", ")
	if more != "" {
		text += "; " + more
	}
	return terminal.Fail(terminal.ExitOutside, errors.New(text), "")
}

// forBoth says, when both marks were asked for, that only one may be missing.
func forBoth(mark string) string {
	if mark == measure.Both {
		return " for one mark or both"
	}
	return ""
}
