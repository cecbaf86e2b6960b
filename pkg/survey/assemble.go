package survey

import (
	"fmt"
	"slices"
	"strings"

	"burngauge.dev/burngauge/pkg/report"
)

// Setup is what a round's report is assembled with, beside its photos.
type Setup struct {
	Stations *Stations
	Assigned map[string]string // station by file name; it overrides the name
	Round    Round
	Report   report.Report // Created, Tool, Job, Target, LimitMM and Rule; the rest is filled in
}

// Place gives the photo's station, or "" and the reason.
func (s Setup) Place(file string) (station, reason string) {
	if name, ok := s.Assigned[file]; ok {
		return name, ""
	}
	return s.Stations.ByName(file)
}

// Assemble sorts the photos into stations, takes the better of several, and
// judges the set. The order of shots does not matter, and their Station and
// Reason are set again. Remarks are lines for whoever runs it: which photo was
// taken, which round. A *RoundError when the round is not there.
func (s Setup) Assemble(shots []Shot) (*report.Report, []string, error) {
	var placed, loose []Shot
	for _, shot := range slices.SortedFunc(slices.Values(shots), byTime) {
		shot.Station, shot.Reason = s.Place(shot.File)
		if shot.Station == "" {
			loose = append(loose, shot)
		} else {
			placed = append(placed, shot)
		}
	}
	taken, left, remark, err := pick(placed, s.Round)
	if err != nil {
		return nil, nil, err
	}
	remarks := nonEmpty(remark, s.timeless(placed))
	out := s.Report
	out.Expected = s.Stations.Expected()
	between := passesInTime(taken)
	for _, name := range s.order(stationsOf(taken)) {
		station := assembleStation(name, at(taken, name))
		out.Stations = append(out.Stations, station)
		remarks = append(remarks, nonEmpty(remarkOn(station, inSeveral(between, name)))...)
	}
	out.Unassigned = unassigned(append(loose, left...))
	out.Judge()
	return &out, append(remarks, twins(&out)...), nil
}

// order puts the expected stations first, in their order, and others after
// them by name.
func (s Setup) order(present []string) (out []string) {
	for _, name := range s.Stations.Expected() {
		if slices.Contains(present, name) {
			out = append(out, name)
		}
	}
	for _, name := range sorted(present) {
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// passesInTime are the passes over the bed, none when a photo says no time.
func passesInTime(shots []Shot) [][]Shot {
	for _, s := range shots {
		if _, known := s.taken(); !known {
			return nil
		}
	}
	return passes(inTime(shots))
}

// inSeveral reports whether the station stands in more than one pass over the bed.
func inSeveral(rounds [][]Shot, station string) bool {
	n := 0
	for _, round := range rounds {
		if len(at(round, station)) > 0 {
			n++
		}
	}
	return n > 1
}

// timeless warns when there may be several rounds and nothing to sort them by.
func (s Setup) timeless(placed []Shot) string {
	if s.Round == All {
		return ""
	}
	var without, doubled int
	for _, name := range stationsOf(placed) {
		if len(at(placed, name)) > 1 {
			doubled++
		}
	}
	for _, shot := range placed {
		if _, known := shot.taken(); !known {
			without++
		}
	}
	if without == 0 || doubled < 2 {
		return ""
	}
	return fmt.Sprintf("%d photos do not say when they were taken, so they cannot be sorted into rounds: "+
		"if these are several rounds, keep each in a folder of its own", without)
}

// unassigned lists photos by name. What cannot be read says so too.
func unassigned(shots []Shot) (out []report.Unassigned) {
	for _, shot := range shots {
		reason := shot.Reason
		if len(shot.Marks) > 0 && shot.Marks[0].Status == report.Unreadable && shot.Marks[0].Refusal != nil {
			reason += "; it cannot be read either: " + shot.Marks[0].Refusal.Text
		}
		out = append(out, report.Unassigned{Photo: shot.facts(), Reason: reason})
	}
	slices.SortFunc(out, func(a, b report.Unassigned) int { return strings.Compare(a.Photo.File, b.Photo.File) })
	return out
}

func nonEmpty(texts ...string) (out []string) {
	for _, text := range texts {
		if text != "" {
			out = append(out, text)
		}
	}
	return out
}
