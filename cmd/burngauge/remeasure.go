package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"

	"burngauge.dev/burngauge/pkg/measure"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/survey"
	"burngauge.dev/burngauge/pkg/terminal"
)

// changedText is the remark on a report whose digest does not fit it.
const changedText = "%s was changed after it was written: run burngauge verify %s"

// readReport reads a report for a command; a wrong one is a wrong use of it.
func readReport(path string) (*report.Report, error) {
	r, err := report.ReadFile(path)
	var wrong *report.ReadError
	if errors.As(err, &wrong) {
		return nil, terminal.Fail(terminal.ExitUsage, err, "burngauge survey FOLDER -o report.json")
	}
	return r, err
}

// oneReport wants exactly one argument.
func oneReport(args []string, hint string) (string, error) {
	switch len(args) {
	case 0:
		return "", terminal.Usagef(hint, "no report given")
	case 1:
		return args[0], nil
	}
	return "", terminal.Usagef(hint, "one report at a time, %d were given", len(args))
}

// photosFolder is where a report's photos lie: the folder named, else the
// report's own.
func photosFolder(given, reportPath string) (string, error) {
	if given == "" {
		return filepath.Dir(reportPath), nil
	}
	return given, checkFolder(given)
}

// settingsOf are the settings that a report was measured with, as far as it
// says.
func settingsOf(r *report.Report) measure.Options {
	settings := measure.DefaultOptions()
	settings.Target, settings.LimitMM, settings.Mark = r.Target, r.LimitMM, ""
	for _, s := range r.Stations {
		for _, m := range survey.Marks(s) {
			switch {
			case settings.Mark == "":
				settings.Mark = m.Mark
			case settings.Mark != m.Mark:
				settings.Mark = measure.Both
			}
			settings.RollPhoto = settings.RollPhoto || warned(m, "roll-from-photo")
		}
	}
	if settings.Mark != measure.Pointer && settings.Mark != measure.Both {
		settings.Mark = measure.Burn
	}
	return settings
}

func warned(m report.Measurement, code string) bool {
	return slices.ContainsFunc(m.Warnings, func(w report.Warning) bool { return w.Code == code })
}

// sortPhotos parts the photos that a report names into those in the folder and
// those that are not, and gives the folder's further photos. A name that leads
// out of the folder is nobody's photo.
func sortPhotos(r *report.Report, folder string) (there, missing, more []string, err error) {
	found, err := survey.Photos(folder)
	if err != nil {
		return nil, nil, nil, terminal.Usagef("check who may read it", "the folder %s cannot be read: %w", folder, bareError(err))
	}
	named := survey.Named(r)
	for _, file := range named {
		if slices.Contains(found, file) {
			there = append(there, file)
		} else {
			missing = append(missing, file)
		}
	}
	if len(there) == 0 {
		return nil, missing, nil, nil // another folder: its photos are none of the report's business
	}
	for _, file := range found {
		if !slices.Contains(named, file) {
			more = append(more, file)
		}
	}
	return there, missing, more, nil
}

// remeasure measures the photos of a folder afresh, several at a time, with a
// progress line.
func remeasure(ctx context.Context, streams terminal.Streams, folder string, files []string, settings measure.Options) ([]survey.Shot, error) {
	pool := newPool(0, settings, report.Millimetres)
	progress := streams.Progress("photos", len(files))
	defer progress.Clear()
	var shots []survey.Shot
	one := func(i int) measured { return pool.measure(filepath.Join(folder, files[i]), "") }
	err := inOrder(ctx, len(files), pool.workers, one, func(i int, m measured) error {
		shots = append(shots, survey.Shot{File: files[i], Marks: m.marks})
		progress.Done(i + 1)
		return nil
	})
	return shots, err
}

// count is "1 photo" or "2 photos".
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
