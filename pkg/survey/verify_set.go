package survey

import (
	"reflect"
	"slices"
	"strings"

	"burngauge.dev/burngauge/pkg/report"
)

// set works the round out again, from the photos where they are there and else
// from what the report says of them, and compares what follows.
func (v *verifier) set() {
	again := v.again()
	if again == nil {
		return
	}
	stated, found := listStations(v.report.Stations), listStations(again.Stations)
	if !slices.Equal(stated, found) {
		v.differ("stations", "the report has %s, the photos give %s", strings.Join(stated, ", "), strings.Join(found, ", "))
		return
	}
	for i, s := range v.report.Stations {
		v.station(s, again.Stations[i])
	}
	if stated, found := listUnassigned(v.report), listUnassigned(again); !slices.Equal(stated, found) {
		v.differ("unassigned", "the report lists %s, the photos give %s", orNothing(stated), orNothing(found))
	}
	v.verdict(again.Verdict)
}

// station compares what was chosen and what follows from it.
func (v *verifier) station(stated, found report.Station) {
	for _, pair := range [][2]*report.Measurement{{stated.Burn, found.Burn}, {stated.Pointer, found.Pointer}} {
		if a, b := fileOf(pair[0]), fileOf(pair[1]); a != b {
			v.differ(stated.Station, "the report takes %s, the better photo is %s", a, b)
			return
		}
	}
	if len(stated.Others) != len(found.Others) {
		v.differ(stated.Station, "others is a list of %d in the report, one of %d by the photos", len(stated.Others), len(found.Others))
	}
	if !v.SameTool { // the parting must at least follow from the report's own numbers
		found.BeamFromPointer = report.Part(stated.Burn, stated.Pointer)
	}
	keys := compareValues("beam_from_pointer", reflect.ValueOf(stated.BeamFromPointer), reflect.ValueOf(found.BeamFromPointer))
	if len(keys) > 0 {
		v.differ(stated.Station, "%s", inWords(keys))
	}
}

// verdict compares the set's. Another version may word it in another way and
// see a borderline mark on the other side: then it must follow from the
// report's own numbers.
func (v *verifier) verdict(found report.SetVerdict) {
	stated := v.report.Verdict
	if !v.SameTool {
		found = report.Judge(v.report.Expected, v.report.Stations)
		found.Text = stated.Text
	}
	for _, k := range compareValues("verdict", reflect.ValueOf(stated), reflect.ValueOf(found)) {
		v.differ(k.key, "it is %s in the report, the photos give %s", k.stated, k.found)
	}
}

// again assembles the report once more. Of several rounds, that one is taken whose
// photos the report has.
func (v *verifier) again() *report.Report {
	stations, err := NewStations(v.report.Expected...)
	if err != nil {
		return nil // that was by the names
	}
	setup := Setup{Stations: stations, Assigned: map[string]string{}, Report: *v.report}
	setup.Report.Stations, setup.Report.Unassigned = nil, nil
	for _, s := range v.report.Stations {
		for _, file := range s.Photos {
			setup.Assigned[file] = s.Station
		}
	}
	for file, station := range v.Assigned {
		setup.Assigned[file] = station
	}
	want := listStations(v.report.Stations)
	shots := v.shots()
	var latest *report.Report
	for setup.Round = All; ; setup.Round++ { // all, latest, 1, 2, ...
		r, _, err := setup.Assemble(shots)
		if err != nil {
			return latest // there is no such round, so none has the report's photos
		}
		if setup.Round == Latest {
			latest = r
		}
		if slices.Equal(listStations(r.Stations), want) {
			return r
		}
	}
}

// shots are the report's photos: measured afresh where this program measured the
// report, else with the report's own numbers, so that a choice which another
// version would make otherwise is no difference. Photos that are missing or
// changed, which was reported already, have the report's too.
func (v *verifier) shots() (list []Shot) {
	for _, file := range Named(v.report) {
		shot, there := v.fresh[file]
		if !there || !v.SameTool {
			shot = stated(v.report, file)
		}
		list = append(list, shot)
	}
	return list
}

// stated is a photo with the report's measurements of it.
func stated(r *report.Report, file string) Shot {
	shot := Shot{File: file}
	for _, s := range r.Stations {
		for _, m := range Marks(s) {
			if m.Photo.File == file {
				shot.Marks = append(shot.Marks, m)
			}
		}
	}
	for _, u := range r.Unassigned {
		if u.Photo.File == file && len(shot.Marks) == 0 {
			shot.Marks = []report.Measurement{{Photo: u.Photo}} // its time is all that counts
		}
	}
	return shot
}

// listStations names each station with its photos: "rear-left (a.jpg b.jpg)".
func listStations(list []report.Station) (out []string) {
	for _, s := range list {
		out = append(out, s.Station+" ("+strings.Join(s.Photos, " ")+")")
	}
	return out
}

func listUnassigned(r *report.Report) (out []string) {
	for _, u := range r.Unassigned {
		out = append(out, u.Photo.File)
	}
	return sorted(out)
}

func orNothing(list []string) string {
	if len(list) == 0 {
		return "nothing"
	}
	return strings.Join(list, ", ")
}

func fileOf(m *report.Measurement) string {
	if m == nil {
		return "nothing"
	}
	return m.Photo.File
}
