package survey

import (
	"fmt"
	"slices"

	"burngauge.dev/burngauge/pkg/report"
)

// twins names stations that rest on one picture: the same bytes under two names.
// No two shots give the same bytes, so a photo was copied to the wrong name.
func twins(r *report.Report) (lines []string) {
	type place struct{ station, file string }
	first := map[string]place{}
	for _, s := range r.Stations {
		for _, m := range []*report.Measurement{s.Burn, s.Pointer} {
			if m == nil || m.Photo.SHA256 == "" {
				continue
			}
			before, known := first[m.Photo.SHA256]
			if !known {
				first[m.Photo.SHA256] = place{s.Station, m.Photo.File}
				continue
			}
			line := fmt.Sprintf("%s and %s rest on one picture: %q is a copy of %q", before.station, s.Station, m.Photo.File, before.file)
			if before.station != s.Station && !slices.Contains(lines, line) {
				lines = append(lines, line)
			}
		}
	}
	return lines
}
