package survey

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"burngauge.dev/burngauge/pkg/report"
)

// Shot is one photo with what came of it: a measurement for each mark that was
// asked for, also when it was refused or could not be read.
type Shot struct {
	File    string // its name in the folder
	Station string // "" when it belongs to none
	Reason  string // why it belongs to none
	Marks   []report.Measurement
}

// facts are the photo's, which all of its measurements repeat.
func (s Shot) facts() report.Photo {
	if len(s.Marks) == 0 {
		return report.Photo{File: s.File}
	}
	return s.Marks[0].Photo
}

// wallClock is the length of RFC 3339's date and time without an offset.
const wallClock = len("2006-01-02T15:04:05")

// taken is when the photo was taken, by the wall clock of the place: one visit
// stays in one time zone, and not every camera writes its offset. False when
// the photo does not say.
func (s Shot) taken() (time.Time, bool) {
	text := s.facts().Taken
	if len(text) < wallClock {
		return time.Time{}, false
	}
	when, err := time.Parse("2006-01-02T15:04:05", text[:wallClock])
	return when, err == nil
}

// byTime orders shots as they were taken, those without a time last, and of one
// second by name.
func byTime(a, b Shot) int {
	ta, oka := a.taken()
	tb, okb := b.taken()
	switch {
	case oka != okb && oka:
		return -1
	case oka != okb:
		return 1
	}
	return cmp.Or(ta.Compare(tb), strings.Compare(a.File, b.File))
}

// inTime is the list in the order taken.
func inTime(list []Shot) []Shot { return slices.SortedFunc(slices.Values(list), byTime) }

// stationsOf are the stations of the shots, each once, in their order.
func stationsOf(list []Shot) (out []string) {
	for _, s := range list {
		if s.Station != "" && !slices.Contains(out, s.Station) {
			out = append(out, s.Station)
		}
	}
	return out
}

// at are the shots of one station, in the order taken.
func at(list []Shot, station string) (out []Shot) {
	for _, s := range inTime(list) {
		if s.Station == station {
			out = append(out, s)
		}
	}
	return out
}
