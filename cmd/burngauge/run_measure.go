package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"burngauge.dev/burngauge/pkg/measure"
	"burngauge.dev/burngauge/pkg/measure/overlay"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/terminal"
)

// measured is what came of one photo. The pixels are not kept.
type measured struct {
	marks      []report.Measurement
	overlayErr error
}

// runMeasure measures the photos, several at a time, and writes the results in
// the order in which the photos were given.
func runMeasure(ctx context.Context, o *measureOptions, settings measure.Options) error {
	if err := prepareFolder(o.overlayDir); err != nil {
		return err
	}
	overlays := overlayPaths(o.overlayDir, o.photos)
	work, workers := measurer(len(o.photos), settings, report.Units(o.units))
	one := func(i int) measured { return work(o.photos[i], overlays[i]) }

	t := &measureTally{o: o, tally: tally{streams: o.streams, progress: o.streams.Progress("photos", len(o.photos))}, labels: shortNames(o.photos)}
	err := inOrder(ctx, len(o.photos), workers, one, t.take)
	t.progress.Clear()
	if err != nil {
		return err
	}
	if err := t.writeDocument(); err != nil {
		return err
	}
	return t.failure()
}

// measurer is how photos are measured, and how many at a time: several within the
// pool's bound of memory, while one alone has all the cores for itself.
func measurer(photos int, settings measure.Options, units report.Units) (work func(path, overlay string) measured, workers int) {
	if photos == 1 {
		return func(path, overlay string) measured { return measureOne(path, overlay, settings, units) }, 1
	}
	pool := newPool(0, settings, units)
	return pool.measure, pool.workers
}

// measureOne measures one photo and draws its overlay, when path is not "". A
// photo that could not be read has none.
func measureOne(photo, path string, settings measure.Options, units report.Units) measured {
	result := measure.File(photo, settings)
	out := measured{marks: result.Measurements}
	if path != "" && result.Photo != nil {
		out.overlayErr = terminal.Replace(path, func(draft string) error { return overlay.Write(draft, result, units) })
	}
	return out
}

// prepareFolder makes the folder for overlays and tries it, so that a wrong one
// is reported before the measuring and not after.
func prepareFolder(dir string) error {
	if dir == "" {
		return nil
	}
	err := os.MkdirAll(dir, 0o777)
	if err == nil {
		var trial *os.File
		if trial, err = os.CreateTemp(dir, ".trial-*"); err == nil {
			err = errors.Join(trial.Close(), os.Remove(trial.Name()))
		}
	}
	if err != nil {
		var path *os.PathError
		if errors.As(err, &path) {
			err = path.Err
		}
		return terminal.NotWritten(fmt.Errorf("writing overlays into %s: %w", dir, err))
	}
	return nil
}

// overlayPaths names an overlay for each photo, in order. Without a folder all
// are "".
func overlayPaths(dir string, photos []string) []string {
	paths := make([]string, len(photos))
	if dir == "" {
		return paths
	}
	taken := map[string]bool{}
	for i, photo := range photos {
		paths[i] = overlayPath(dir, photo, taken)
	}
	return paths
}

// overlayPath names a photo's overlay and notes it in taken: rear-left.jpg gives
// rear-left.overlay.jpg; a name that is taken gets a number. Names that differ
// only in case count as one: many file systems see no difference.
func overlayPath(dir, photo string, taken map[string]bool) string {
	base := filepath.Base(photo)
	stem := strings.TrimSuffix(base, filepath.Ext(base))
	name := stem
	for n := 2; taken[strings.ToLower(name)]; n++ {
		name = fmt.Sprintf("%s-%d", stem, n)
	}
	taken[strings.ToLower(name)] = true
	return filepath.Join(dir, name+".overlay.jpg")
}
