package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"

	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/survey"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// watcher is a survey that goes on: the photos measured so far.
type watcher struct {
	tally
	job      *surveyJob
	pool     *pool
	shots    map[string]survey.Shot // by file name
	remarks  []string               // on the report as it was last
	verdict  string                 // as last printed
	unsaved  error                  // why the report was not written the last time
	overlays map[string]string      // path by photo
	taken    map[string]bool        // names of overlays
}

// runWatch measures what lands in the folder until ctx ends.
func runWatch(ctx context.Context, job *surveyJob) error {
	if err := prepareFolder(job.overlayDir); err != nil {
		return err
	}
	w := &watcher{
		tally: tally{streams: job.streams, progress: job.streams.Progress("", 0)},
		job:   job, pool: newPool(job.workers, job.settings, report.Units(job.units)), shots: map[string]survey.Shot{}, overlays: map[string]string{}, taken: map[string]bool{},
	}
	w.streams.Note("%s", reminder)
	w.streams.Note("watching %s for photos; Ctrl-C ends", job.folder)
	err := survey.Watch(ctx, job.folder, survey.Watcher{Measure: w.measure, Gone: w.gone})
	if err != nil && terminal.ExitCode(err) == terminal.ExitFailed {
		err = fmt.Errorf("watching %s: %w", job.folder, bareError(err))
	}
	if err != nil {
		return err
	}
	if w.overlayErr != nil {
		return errOverlays
	}
	return w.unsaved
}

// measure measures the photos that are ready and renews the report.
func (w *watcher) measure(ctx context.Context, ready []survey.Ready, whole func(string, bool)) error {
	one := func(i int) measured {
		return w.pool.measure(filepath.Join(w.job.folder, ready[i].Name), w.overlay(ready[i].Name))
	}
	for _, r := range ready {
		w.overlay(r.Name) // named here, in one goroutine
	}
	fresh := false
	err := inOrder(ctx, len(ready), w.pool.workers, one, func(i int, m measured) error {
		if unfinished(m.marks) && !ready[i].Last {
			whole(ready[i].Name, false)
			return nil
		}
		whole(ready[i].Name, true)
		fresh = true
		return w.take(ready[i].Name, m)
	})
	if err != nil || !fresh {
		return err
	}
	return w.renew()
}

// unfinished reports whether a file may be a photo that has not arrived whole.
func unfinished(marks []report.Measurement) bool {
	early := []string{"truncated", "empty", "not-an-image", "not-found"}
	return anyMark(marks, func(m report.Measurement) bool {
		return m.Status == report.Unreadable && m.Refusal != nil && slices.Contains(early, m.Refusal.Code)
	})
}

// overlay names the photo's overlay, the same each time, "" when none is wanted.
func (w *watcher) overlay(photo string) string {
	if w.job.overlayDir == "" {
		return ""
	}
	if path, ok := w.overlays[photo]; ok {
		return path
	}
	path := overlayPath(w.job.overlayDir, photo, w.taken)
	w.overlays[photo] = path
	return path
}

// take is called with each photo's result.
func (w *watcher) take(file string, m measured) error {
	w.count(file, m)
	w.shots[file] = survey.Shot{File: file, Marks: m.marks}
	station, reason := w.job.setup.Place(file)
	if reason != "" {
		w.streams.Note("%s: %s", report.OneLine(file), report.OneLine(reason))
	}
	if anyMark(m.marks, asksToFire) {
		defer remindToFireSafely(w.streams)
	}
	if w.job.ndjson {
		w.noteRefusals(file, m.marks)
		return w.job.writeLines(station, m.marks)
	}
	for _, mark := range m.marks {
		if _, err := fmt.Fprintln(w.streams.Out, report.Line(station, mark, report.Units(w.job.units))); err != nil {
			return command.Written(err)
		}
	}
	return nil
}

// gone takes photos that were removed out of the report.
func (w *watcher) gone(names []string) error {
	known := false
	for _, name := range names {
		if _, measured := w.shots[name]; measured {
			known = true
			delete(w.shots, name)
			w.streams.Note("%s is gone: taken out of the report", report.OneLine(name))
		}
	}
	if !known {
		return nil
	}
	return w.renew()
}

// renew makes the report of the photos that there are now and says what is new
// about it. A report that cannot be written is an error line, and the watch goes on: the
// next photo tries again.
func (w *watcher) renew() error {
	shots := make([]survey.Shot, 0, len(w.shots))
	for _, shot := range w.shots {
		shots = append(shots, shot)
	}
	r, remarks, err := w.job.assemble(shots)
	if err != nil {
		return err
	}
	for _, line := range remarks {
		if !slices.Contains(w.remarks, line) {
			w.streams.Note("%s", line)
		}
	}
	w.remarks = remarks
	verdict := r.Verdict.State + ": " + r.VerdictText(report.Units(w.job.units))
	if verdict != w.verdict {
		w.streams.Note("%s", verdict)
		w.verdict = verdict
	}
	w.unsaved = w.job.write(r)
	w.streams.Report(w.unsaved)
	return nil
}
