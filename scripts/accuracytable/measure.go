package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"

	"burngauge.dev/burngauge/pkg/report"
)

// exitSomeNotMeasured is burngauge's exit code when some photos were refused.
const exitSomeNotMeasured = 3

// outcome is one mark of one photo: what is true and what was said.
type outcome struct {
	photo truthPhoto
	mark  string
	said  report.Measurement
}

// batch is photos that one call of burngauge can measure.
type batch struct {
	spec, mark string
	photos     []truthPhoto
}

// batches groups photos by spec and mark, in the order of their first photo.
func batches(photos []truthPhoto) []batch {
	var out []batch
	place := map[[2]string]int{}
	for _, p := range photos {
		key := [2]string{p.Spec, p.Mark}
		i, known := place[key]
		if !known {
			i = len(out)
			place[key] = i
			out = append(out, batch{spec: p.Spec, mark: p.Mark})
		}
		out[i].photos = append(out[i].photos, p)
	}
	return out
}

// measureAll measures every photo of the folder with the program bin.
func measureAll(bin, folder string, photos []truthPhoto) ([]outcome, error) {
	var all []outcome
	for _, b := range batches(photos) {
		part, err := measureBatch(bin, folder, b)
		if err != nil {
			return nil, fmt.Errorf("measuring %s on %s: %w", b.mark, b.spec, err)
		}
		all = append(all, part...)
	}
	return all, nil
}

func measureBatch(bin, folder string, b batch) ([]outcome, error) {
	args := []string{"measure", "--json", "--target", targetFor(folder, b.spec), "--mark", b.mark, "--"}
	for _, p := range b.photos {
		args = append(args, filepath.Join(folder, p.Photo))
	}
	cmd := exec.Command(bin, args...)
	out, err := cmd.Output()
	var exit *exec.ExitError
	if errors.As(err, &exit) && exit.ExitCode() != exitSomeNotMeasured {
		return nil, fmt.Errorf("%w: %s", err, exit.Stderr)
	} else if err != nil && exit == nil {
		return nil, err
	}
	var file struct {
		Measurements []report.Measurement `json:"measurements"`
	}
	if err := json.Unmarshal(out, &file); err != nil {
		return nil, fmt.Errorf("reading its JSON: %w", err)
	}
	return pair(b, file.Measurements)
}

// pair puts each measurement beside its photo's truth. One missing or one too
// many is an error: the table would be about something else.
func pair(b batch, measured []report.Measurement) ([]outcome, error) {
	said := map[[2]string]report.Measurement{}
	for _, m := range measured {
		said[[2]string{m.Photo.File, m.Mark}] = m
	}
	var out []outcome
	for _, p := range b.photos {
		for _, mark := range p.marks() {
			m, ok := said[[2]string{filepath.Base(p.Photo), mark}]
			if !ok {
				return nil, fmt.Errorf("it said nothing of the %s in %s", mark, p.Photo)
			}
			out = append(out, outcome{photo: p, mark: mark, said: m})
		}
	}
	if len(out) != len(measured) {
		return nil, fmt.Errorf("it gave %d measurements, %d were asked for", len(measured), len(out))
	}
	return out, nil
}
