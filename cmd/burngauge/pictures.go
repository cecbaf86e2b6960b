package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"burngauge.dev/burngauge/pkg/evidence"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/survey"
	"burngauge.dev/burngauge/pkg/terminal"
)

// wantedPicture is a measurement of the report whose photo is to be shown.
type wantedPicture struct {
	station string
	report.Measurement
}

// wantedPictures are those a station's verdict rests on: the burn's photo and,
// when it is another, the pointer's.
func wantedPictures(r *report.Report) (list []wantedPicture) {
	for _, s := range r.Stations {
		shown := ""
		for _, m := range []*report.Measurement{s.Burn, s.Pointer} {
			if m != nil && m.Status != report.Unreadable && m.Photo.File != shown {
				list = append(list, wantedPicture{s.Station, *m})
				shown = m.Photo.File
			}
		}
	}
	return list
}

// drawPictures measures the photos again and draws the overlays. lacking counts
// those that could not be drawn; the reason of each has been printed.
func drawPictures(ctx context.Context, streams terminal.Streams, sheet evidence.Sheet, folder string) (pictures []evidence.Picture, lacking int, err error) {
	scratch, err := os.MkdirTemp("", "burngauge-*")
	if err != nil {
		return nil, 0, terminal.NotWritten(fmt.Errorf("drawing the pictures: %w", err))
	}
	defer os.RemoveAll(scratch)
	list := wantedPictures(sheet.Report)
	pool := newPool(0, settingsOf(sheet.Report), sheet.Units)
	progress := streams.Progress("photos", len(list))
	defer progress.Clear()
	one := func(i int) drawn { return pool.draw(folder, scratch, i, list[i], sheet.Report.Tool == tool()) }
	err = inOrder(ctx, len(list), pool.workers, one, func(i int, d drawn) error {
		progress.Clear()
		if d.lacking != "" {
			streams.Note("%s: no picture of %s: %s", report.OneLine(list[i].station), report.OneLine(list[i].Photo.File), d.lacking)
			lacking++
		} else {
			pictures = append(pictures, d.picture)
		}
		progress.Done(i + 1)
		return d.err
	})
	return pictures, lacking, err
}

// drawn is what came of one picture.
type drawn struct {
	picture evidence.Picture
	lacking string // why there is none
	err     error  // of the scratch folder
}

// draw measures the photo and draws its overlay, when it is still the photo that
// the report is of and measures as the report says.
func (p *pool) draw(folder, scratch string, i int, want wantedPicture, sameTool bool) drawn {
	file := want.Photo.File
	if file != filepath.Base(file) {
		return drawn{lacking: "it is not a plain file name"}
	}
	path := filepath.Join(scratch, fmt.Sprintf("%d.jpg", i))
	m := p.measure(filepath.Join(folder, file), path)
	for _, found := range m.marks {
		if found.Mark != want.Mark {
			continue
		}
		if why := whyNoPicture(want.Measurement, found, folder, sameTool); why != "" {
			return drawn{lacking: why}
		}
	}
	data, err := os.ReadFile(path)
	if err = errors.Join(m.overlayErr, err); err != nil {
		return drawn{err: terminal.NotWritten(fmt.Errorf("drawing the picture of %s: %w", file, err))}
	}
	return drawn{picture: evidence.Picture{
		Data: data, Station: want.station, File: file, Mark: want.Mark, Taken: want.Photo.Taken, SHA256: want.Photo.SHA256,
	}}
}

// whyNoPicture says why a photo must not stand for the report's measurement.
func whyNoPicture(stated, found report.Measurement, folder string, sameTool bool) string {
	switch {
	case found.Refusal != nil && found.Refusal.Code == "not-found":
		return "it is not in " + folder
	case found.Status == report.Unreadable:
		return found.Refusal.Text
	case found.Photo.SHA256 != stated.Photo.SHA256:
		return "the file is not the one that was measured, its hash differs"
	}
	if survey.Compare(stated, found, sameTool) != "" {
		return "it does not measure as the report says; run burngauge verify"
	}
	return ""
}
