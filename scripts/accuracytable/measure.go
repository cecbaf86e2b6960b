package main

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"

	"burngauge.dev/burngauge/pkg/photoset"
	"burngauge.dev/burngauge/pkg/report"
)

// outcome is one mark of one photo: what is true and what was said.
type outcome struct {
	photo photoset.Photo
	mark  string
	said  report.Measurement
}

// measureAll measures every photo of the folder with the program bin.
func measureAll(bin, folder string, photos []photoset.Photo) ([]outcome, error) {
	var all []outcome
	for _, b := range photoset.Batches(folder, photos) {
		out, _, err := b.Measure(context.Background(), bin)
		if err != nil {
			return nil, err
		}
		var file struct {
			Measurements []report.Measurement `json:"measurements"`
		}
		if err := json.Unmarshal(out, &file); err != nil {
			return nil, fmt.Errorf("reading burngauge's JSON: %w", err)
		}
		part, err := pair(b, file.Measurements)
		if err != nil {
			return nil, err
		}
		all = append(all, part...)
	}
	return all, nil
}

// pair puts each measurement beside its photo's truth. One missing or one too
// many is an error: the table would be about something else.
func pair(b photoset.Batch, measured []report.Measurement) ([]outcome, error) {
	said := map[[2]string]report.Measurement{}
	for _, m := range measured {
		said[[2]string{m.Photo.File, m.Mark}] = m
	}
	var out []outcome
	for _, p := range b.Photos {
		for _, mark := range p.Marks() {
			m, ok := said[[2]string{filepath.Base(p.File), mark}]
			if !ok {
				return nil, fmt.Errorf("it said nothing of the %s in %s", mark, p.File)
			}
			out = append(out, outcome{photo: p, mark: mark, said: m})
		}
	}
	if len(out) != len(measured) {
		return nil, fmt.Errorf("it gave %d measurements, %d were asked for", len(measured), len(out))
	}
	return out, nil
}
