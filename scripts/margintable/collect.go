package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"reflect"

	"burngauge.dev/burngauge/pkg/photoset"
	"burngauge.dev/burngauge/pkg/report"
)

// limitCase is one decision with what is true of it.
type limitCase struct {
	report.Decision
	kind  kind
	photo string // folder and file
}

// value is NaN when there was nothing to measure.
func (c limitCase) value() float64 {
	if c.Value == nil {
		return math.NaN()
	}
	return *c.Value
}

// collect measures a folder's photos and takes their decisions.
func collect(ctx context.Context, bin, folder string, photos []photoset.Photo) ([]limitCase, error) {
	var out []limitCase
	for _, b := range photoset.Batches(folder, photos) {
		text, _, err := b.Measure(ctx, bin, "--explain")
		if err != nil {
			return nil, err
		}
		var file struct {
			Measurements []report.Measurement `json:"measurements"`
		}
		if err := json.Unmarshal(text, &file); err != nil {
			return nil, fmt.Errorf("reading burngauge's JSON: %w", err)
		}
		out = append(out, casesOf(b, file.Measurements)...)
	}
	return out, nil
}

// casesOf puts the decisions of a batch beside the truth. What the marks of one photo
// share, finding the target that is, counts once.
func casesOf(b photoset.Batch, measured []report.Measurement) (out []limitCase) {
	truth := map[string]photoset.Photo{}
	for _, p := range b.Photos {
		truth[filepath.Base(p.File)] = p
	}
	for i, m := range measured {
		p, known := truth[m.Photo.File]
		if !known {
			continue
		}
		from := 0
		if i > 0 && measured[i-1].Photo == m.Photo {
			from = shared(measured[i-1].Decisions, m.Decisions)
		}
		for _, d := range m.Decisions[from:] {
			out = append(out, limitCase{d, kindOf(d, m, p), filepath.Base(b.Folder) + "/" + m.Photo.File})
		}
	}
	return out
}

// shared counts the decisions that two lists begin with.
func shared(a, b []report.Decision) (n int) {
	for n < min(len(a), len(b)) && reflect.DeepEqual(a[n], b[n]) {
		n++
	}
	return n
}
