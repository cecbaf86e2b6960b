package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/survey"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// surveyTally takes the photos' results, and remembers what the exit code must
// say.
type surveyTally struct {
	tally
	job   *surveyJob
	shots []survey.Shot
}

// runSurvey measures the folder's photos, several at a time, and makes the
// report.
func runSurvey(ctx context.Context, job *surveyJob) error {
	if err := prepareFolder(job.overlayDir); err != nil {
		return err
	}
	t := &surveyTally{job: job, tally: tally{streams: job.streams, progress: job.streams.Progress("photos", len(job.photos))}}
	pool := newPool(job.workers, job.settings, report.Units(job.units))
	overlays := overlayPaths(job.overlayDir, job.photos)
	one := func(i int) measured { return pool.measure(filepath.Join(job.folder, job.photos[i]), overlays[i]) }
	err := inOrder(ctx, len(job.photos), pool.workers, one, t.take)
	t.progress.Clear()
	if err != nil {
		return err
	}
	return t.finish()
}

// take is called with each photo's result in turn.
func (t *surveyTally) take(i int, m measured) error {
	file := t.job.photos[i]
	t.count(file, m)
	defer func() { t.progress.Done(t.photos) }()
	t.shots = append(t.shots, survey.Shot{File: file, Marks: m.marks})
	if !t.job.ndjson {
		return nil
	}
	t.noteRefusals(file, m.marks)
	station, reason := t.job.setup.Place(file)
	if reason != "" {
		t.streams.Note("%s: %s", report.OneLine(file), report.OneLine(reason))
	}
	return t.job.writeLines(station, m.marks)
}

// finish assembles the report, writes it, and says how it went.
func (t *surveyTally) finish() error {
	r, remarks, err := t.job.assemble(t.shots)
	if err != nil {
		return err
	}
	for _, line := range remarks {
		t.streams.Note("%s", line)
	}
	if !t.job.ndjson && t.job.output != "-" {
		if err := report.WriteStations(t.streams.Out, r, report.Units(t.job.units)); err != nil {
			return terminal.NotWritten(err)
		}
	}
	if err := t.job.write(r); err != nil {
		return err
	}
	t.job.noteWritten()
	if t.toFire {
		remindToFireSafely(t.streams)
	}
	return t.failure(r)
}

// assemble makes the report of what was measured so far.
func (j *surveyJob) assemble(shots []survey.Shot) (*report.Report, []string, error) {
	j.setup.Report.Created = now().Format(time.RFC3339)
	r, remarks, err := j.setup.Assemble(shots)
	var round *survey.RoundError
	if errors.As(err, &round) {
		return nil, nil, terminal.Fail(terminal.ExitUsage, err, "burngauge survey --round latest FOLDER")
	}
	return r, remarks, err
}

// write writes the files that were asked for.
func (j *surveyJob) write(r *report.Report) error {
	if j.output != "" {
		if err := writeReport(j.streams.Out, r, j.output); err != nil {
			return err
		}
	}
	if j.csv == "" {
		return nil
	}
	return terminal.WriteFile(j.csv, func(w io.Writer) error { return report.WriteCSV(w, r) })
}

// noteWritten names the files, and says when the photos lie elsewhere than the
// report: the commands that measure them again look beside it.
func (j *surveyJob) noteWritten() {
	if j.output != "" && j.output != "-" {
		j.streams.Note("%s written", j.output)
		if !sameFolder(filepath.Dir(j.output), j.folder) {
			j.streams.Note("its photos lie in another folder: give verify and evidence --photos %s", j.folder)
		}
	}
	if j.csv != "" {
		j.streams.Note("%s written", j.csv)
	}
}

func sameFolder(a, b string) bool {
	first, errA := os.Stat(a)
	second, errB := os.Stat(b)
	return errA == nil && errB == nil && os.SameFile(first, second)
}

// writeReport writes the report whole or not at all; - is standard output.
func writeReport(out io.Writer, r *report.Report, path string) error {
	if path == "-" {
		data, err := r.Encode()
		if err != nil {
			return err
		}
		_, err = out.Write(data)
		return command.Written(err)
	}
	err := r.WriteFile(path)
	var failed *report.WriteError
	if errors.As(err, &failed) {
		return terminal.NotWritten(err)
	}
	return err
}

// failure is what the exit code must say when all is done, as for measure.
func (t *surveyTally) failure(r *report.Report) error {
	outside := outsideStations(r)
	loose := t.loose()
	problem := t.problems(loose)
	switch {
	case t.overlayErr != nil:
		return errOverlays
	case t.job.failOutside && len(outside) > 0:
		return outsideFailure(outside, problem)
	case problem == "":
		return nil
	}
	hint := "burngauge help photos"
	if len(t.notMeasured) == 0 {
		hint = surveyHint
	}
	return terminal.Fail(terminal.ExitNotMeasured, errors.New(problem), hint)
}

// loose are the photos of no station.
func (t *surveyTally) loose() (names []string) {
	for _, shot := range t.shots {
		if station, _ := t.job.setup.Place(shot.File); station == "" {
			names = append(names, shot.File)
		}
	}
	return names
}

// inBrackets names the photos behind their number, when they are few.
func inBrackets(names []string) string {
	if text := few(names); text != "" {
		return " (" + text + ")"
	}
	return ""
}

// problems names the photos that say nothing or are of no station; "" when all is well.
func (t *surveyTally) problems(loose []string) string {
	var parts []string
	if n := len(t.notMeasured); n > 0 {
		parts = append(parts, fmt.Sprintf("%d not measured%s", n, forBoth(t.job.mark))+inBrackets(t.notMeasured))
	}
	if n := len(loose); n > 0 {
		parts = append(parts, fmt.Sprintf("%d of no station", n)+inBrackets(loose))
	}
	if len(parts) == 0 {
		return ""
	}
	return fmt.Sprintf("of %s %s", count(t.photos, "photo", "photos"), strings.Join(parts, ", "))
}

// outsideStations are those whose beam or pointer lies outside the limit.
func outsideStations(r *report.Report) (names []string) {
	for _, s := range r.Stations {
		for _, m := range []*report.Measurement{s.Burn, s.Pointer} {
			if m != nil && isOutside(*m) {
				names = append(names, s.Station)
				break
			}
		}
	}
	return names
}
