package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"burngauge.dev/burngauge/pkg/measure"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/terminal"
)

// tally takes the photos' results in order, writes them, and remembers what the
// exit code must say.
type tally struct {
	o        *measureOptions
	progress *terminal.Progress

	photos      int
	marks       []report.Measurement // all, but for --ndjson
	notMeasured int                  // photos
	outside     []string             // photos
	overlayErr  error                // the first
}

// take is called with each photo's result in turn.
func (t *tally) take(i int, m measured) error {
	t.photos++
	name := filepath.Base(t.o.photos[i])
	if anyMark(m.marks, func(r report.Measurement) bool { return r.Status != report.Measured }) {
		t.notMeasured++
	}
	if anyMark(m.marks, func(r report.Measurement) bool { return r.Verdict != nil && r.Verdict.State == "outside" }) {
		t.outside = append(t.outside, name)
	}
	t.progress.Clear()
	if m.overlayErr != nil {
		t.o.streams.Report(m.overlayErr)
		t.overlayErr = m.overlayErr
	}
	defer t.progress.Done(t.photos)
	t.tellRefusals(m.marks)
	if !t.o.ndjson {
		t.marks = append(t.marks, m.marks...)
		return nil
	}
	for _, r := range m.marks {
		if err := report.WriteNDJSON(t.o.streams.Out, r); err != nil {
			return terminal.NotWritten(err)
		}
	}
	return nil
}

// tellRefusals says in plain words what the JSON says: whoever runs it sees the
// standard error only. The table says it itself. What holds for both marks of a
// photo is said once.
func (t *tally) tellRefusals(marks []report.Measurement) {
	if !t.o.json && !t.o.ndjson {
		return
	}
	said := ""
	for _, m := range marks {
		if m.Refusal == nil || m.Refusal.Text == said {
			continue
		}
		said = m.Refusal.Text
		t.o.streams.Note("%s: %s (%s)", m.Photo.File, said, m.Refusal.Code)
	}
}

// anyMark tells whether one of the marks is so.
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
func (t *tally) writeDocument() error {
	var err error
	switch {
	case t.o.json:
		err = report.WriteJSON(t.o.streams.Out, t.marks)
	case !t.o.ndjson:
		err = report.WriteTable(t.o.streams.Out, t.marks, report.Units(t.o.units))
	}
	if err != nil {
		return terminal.NotWritten(err)
	}
	return nil
}

// failure is what the exit code must say when all is done. A file that was not
// written comes first, as it can be cured; a mark outside, which is only asked
// for with --fail-outside, comes before photos that say nothing.
func (t *tally) failure() error {
	switch {
	case t.overlayErr != nil:
		return terminal.Fail(terminal.ExitNotWritten, fmt.Errorf("not every overlay was written"), "")
	case t.o.failOutside && len(t.outside) > 0:
		return terminal.Fail(terminal.ExitOutside, fmt.Errorf("outside the limit: %s", strings.Join(t.outside, ", ")), "")
	case t.notMeasured > 0:
		return terminal.Fail(terminal.ExitNotMeasured,
			fmt.Errorf("%d of %d photos not measured%s", t.notMeasured, t.photos, t.forBoth()), "burngauge help photos")
	}
	return nil
}

// forBoth says, when both marks were asked for, that one may be missing.
func (t *tally) forBoth() string {
	if t.o.mark == measure.Both {
		return " for both marks"
	}
	return ""
}
