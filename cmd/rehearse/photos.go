package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"burngauge.dev/burngauge/pkg/disk"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/rehearsal/fire"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/target"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// takePhotos takes the photos and writes them in order. Exposing one keeps all
// processors busy; the one before is finished and written meanwhile. More than two
// pictures are never in memory.
func (o *fireOptions) takePhotos(ctx context.Context, b *rehearsal.Bench, stations []string) ([]studio.Truth, error) {
	progress := o.streams.Progress("photos", len(stations))
	defer progress.Clear()
	truths := make([]studio.Truth, len(stations))
	last := done(nil)
	for i, station := range stations {
		err := ctx.Err()
		var finish func() (fire.Photo, error)
		if err == nil {
			finish, err = fire.Expose(b, station, o.photo)
		}
		// Also after a failure: what is being written must be whole.
		if err = errors.Join(<-last, err); err != nil {
			return nil, err
		}
		progress.Done(i)
		last = inBackground(func() error {
			truth, err := o.keep(finish)
			truths[i] = truth
			return err
		})
	}
	if err := <-last; err != nil {
		return nil, err
	}
	progress.Clear()
	for _, station := range stations {
		if _, err := fmt.Fprintln(o.streams.Out, o.path(station)); err != nil {
			return nil, command.Written(err)
		}
	}
	return truths, nil
}

// keep finishes a photo and writes it.
func (o *fireOptions) keep(finish func() (fire.Photo, error)) (studio.Truth, error) {
	photo, err := finish()
	if err != nil {
		return studio.Truth{}, err
	}
	photo.Truth.Photo = photo.Station + ".jpg"
	err = terminal.WriteFile(o.path(photo.Station), func(w io.Writer) error { _, err := w.Write(photo.JPEG); return err })
	return photo.Truth, err
}

// inBackground runs work and hands over its error once.
func inBackground(work func() error) <-chan error {
	end := make(chan error, 1)
	go func() { end <- work() }()
	return end
}

// done is work that has ended already.
func done(err error) <-chan error {
	end := make(chan error, 1)
	end <- err
	return end
}

// truthName is the file that scripts/accuracy looks for.
const truthName = "truth.json"

// writeTruth writes truth.json, keeping what an earlier fire into the same folder
// has put there about other photos, and the target's spec when it is not built in.
func (o *fireOptions) writeTruth(truths []studio.Truth) error {
	path := filepath.Join(o.dir, truthName)
	all, err := earlierTruth(path)
	if err != nil {
		return err
	}
	all.About = studio.AboutTruth
	for _, t := range truths {
		all.Photos = slices.DeleteFunc(all.Photos, func(old studio.Truth) bool { return old.Photo == t.Photo })
	}
	all.Photos = append(all.Photos, truths...)
	text, err := json.MarshalIndent(all, "", " ")
	if err != nil {
		return fmt.Errorf("encode the truth: %w", err)
	}
	err = terminal.WriteFile(path, func(w io.Writer) error { _, err := w.Write(append(text, '\n')); return err })
	if err != nil {
		return err
	}
	return o.copySpec()
}

// earlierTruth reads a truth.json that is there, none when there is none.
func earlierTruth(path string) (all studio.TruthFile, err error) {
	data, err := os.ReadFile(path)
	if os.IsNotExist(err) {
		return all, nil
	}
	if err == nil {
		err = json.Unmarshal(data, &all)
	}
	if err != nil {
		return all, terminal.Fail(terminal.ExitNotWritten, fmt.Errorf("%s holds something else: %w", path, disk.Cause(err)), "name another folder with -o")
	}
	return all, nil
}

// copySpec puts a target's own spec beside the photos.
func (o *fireOptions) copySpec() error {
	if _, builtin := target.Builtin(o.target); builtin {
		return nil
	}
	data, err := os.ReadFile(o.target)
	if err != nil {
		return fmt.Errorf("copy the target's spec: %w", err)
	}
	return terminal.WriteFile(filepath.Join(o.dir, o.photo.Ask), func(w io.Writer) error { _, err := w.Write(data); return err })
}
