package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"burngauge.dev/burngauge/pkg/photoset"
)

// photosAtATime is how many photos one call measures: few enough that the progress
// moves, many enough that several are measured at the same time, as by hand.
const photosAtATime = 12

// measurements are the samples of one folder: each photo with its spec and mark.
func measurements(folder string) ([]sample, error) {
	photos, err := photoset.Read(folder)
	if err != nil {
		return nil, err
	}
	var out []sample
	for i, b := range photoset.Split(photoset.Batches(folder, photos), photosAtATime) {
		input, err := inputOf(b)
		if err != nil {
			return nil, err
		}
		name := fmt.Sprintf("%s, part %d", filepath.Base(folder), i+1)
		out = append(out, sample{name: name, input: "measure " + name + input, programs: []string{burngauge},
			run: func(ctx context.Context, side *build, _ string) ([]output, error) {
				return measured(ctx, side, name, b)
			}})
	}
	return out, nil
}

// inputOf is what decides a batch's measurements.
func inputOf(b photoset.Batch) (string, error) {
	paths := b.Paths()
	if target := b.Target(); strings.ContainsRune(target, filepath.Separator) {
		paths = append(paths, target)
	}
	input := " " + b.Spec + " " + b.Mark
	for _, path := range paths {
		hash, err := hashOf(path)
		if err != nil {
			return "", err
		}
		input += " " + filepath.Base(path) + " " + hash
	}
	return input, nil
}

// measured are the measurements of a batch, one output for each mark of each photo.
func measured(ctx context.Context, b *build, name string, batch photoset.Batch) ([]output, error) {
	text, code, err := batch.Measure(ctx, b.path[burngauge])
	if err != nil {
		return nil, fmt.Errorf("the %s build: %w", b.side, err)
	}
	var file struct {
		Schema       string            `json:"schema"`
		Measurements []json.RawMessage `json:"measurements"`
	}
	if err := json.Unmarshal(text, &file); err != nil {
		return nil, fmt.Errorf("the %s build's JSON: %w", b.side, err)
	}
	out := []output{exitCode(name, code), {Kind: kindMeasurements, Name: name + ", schema", Text: file.Schema}}
	for i, m := range file.Measurements {
		var of struct {
			Photo struct{ File string }
			Mark  string
		}
		if err := json.Unmarshal(m, &of); err != nil {
			return nil, fmt.Errorf("the %s build's JSON, measurement %d: %w", b.side, i, err)
		}
		label := fmt.Sprintf("%s/%s %s", filepath.Base(batch.Folder), of.Photo.File, of.Mark)
		out = append(out, output{Kind: kindMeasurements, Name: label, JSON: true, Text: string(m)})
	}
	return out, nil
}

func exitCode(name string, code int) output {
	return output{Kind: kindExits, Name: name, Text: fmt.Sprint(code)}
}

// fired are the photos in a folder, each by its bytes, and their truth.
func fired(folder, label, kind, truthKind string) ([]output, error) {
	photos, err := filepath.Glob(filepath.Join(folder, "*.jpg"))
	if err != nil {
		return nil, err
	}
	var out []output
	for _, path := range photos {
		hash, err := hashOf(path)
		if err != nil {
			return nil, err
		}
		out = append(out, output{Kind: kind, Name: label + "/" + filepath.Base(path), Text: "sha256 " + hash})
	}
	truth, err := os.ReadFile(filepath.Join(folder, photoset.TruthName))
	if err != nil {
		return nil, err
	}
	return append(out, output{Kind: truthKind, Name: label, JSON: true, Text: string(truth)}), nil
}
