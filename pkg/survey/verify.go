package survey

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"burngauge.dev/burngauge/pkg/report"
)

// Evidence is what a report is compared with.
type Evidence struct {
	Shots    []Shot            // the report's photos that are there, measured afresh with its target and limit
	Missing  []string          // the report's photos that are not
	More     []string          // photos of the folder that the report does not name
	Assigned map[string]string // station by file name, as it was given to the survey
	SameTool bool              // this program measured the report: the numbers must agree
	Rule     string            // the decision rule of this program
}

// Verify holds a report against its photos. It finds what was edited in it,
// also when its digest was made again: every measurement is compared with a fresh
// one, and stations, choice of photos, parting of beam and pointer, and verdict
// are worked out again. What no photo shows is not checked but for the digest:
// the job, the date, the reasons, the tool, and which limit, target and stations
// were chosen, as long as everything in the report follows from them.
//
// Notes are what could not be checked. No difference means that the report says
// what its photos say; it does not show who made it.
func Verify(r *report.Report, e Evidence) (differences []Difference, notes []string) {
	v := verifier{report: r, Evidence: e, fresh: map[string]Shot{}}
	for _, shot := range e.Shots {
		v.fresh[shot.File] = shot
	}
	v.integrity()
	v.photos()
	v.measurements()
	v.names()
	v.set()
	v.notes = append(v.notes, twins(r)...)
	return v.differences, v.notes
}

type verifier struct {
	report *report.Report
	Evidence
	fresh       map[string]Shot // by file; those whose bytes differ are taken out
	differences []Difference
	notes       []string
}

func (v *verifier) differ(where, text string, args ...any) {
	v.differences = append(v.differences, Difference{where, fmt.Sprintf(text, args...)})
}

func (v *verifier) integrity() {
	switch {
	case v.report.Integrity == nil:
		v.differ("integrity", "the report has no digest")
	case !v.report.DigestOK():
		v.differ("integrity", "the digest does not fit: the report was changed after it was written")
	}
	if v.SameTool && v.report.Rule != v.Rule {
		v.differ("rule", "it is not this program's: %q", v.report.Rule)
	}
}

// Named lists the photos that a report names, each once, in its order.
func Named(r *report.Report) (files []string) {
	add := func(file string) {
		if !slices.Contains(files, file) {
			files = append(files, file)
		}
	}
	for _, s := range r.Stations {
		for _, file := range s.Photos {
			add(file)
		}
		for _, m := range Marks(s) {
			add(m.Photo.File)
		}
	}
	for _, u := range r.Unassigned {
		add(u.Photo.File)
	}
	return files
}

// Marks are all of a station's measurements, the taken ones first.
func Marks(s report.Station) (list []report.Measurement) {
	for _, m := range []*report.Measurement{s.Burn, s.Pointer} {
		if m != nil {
			list = append(list, *m)
		}
	}
	return append(list, s.Others...)
}

// photos compares each photo's bytes. One that differs is named once, and is not
// measured against.
func (v *verifier) photos() {
	seen := map[string]bool{}
	check := func(stated report.Photo) {
		shot, there := v.fresh[stated.File]
		if !there || seen[stated.File] || shot.facts().SHA256 == stated.SHA256 {
			return
		}
		seen[stated.File] = true
		v.differ(stated.File, "the file is not the one that was measured: its sha256 is %s, the report says %s",
			orNone(shot.facts().SHA256), orNone(stated.SHA256))
	}
	for _, s := range v.report.Stations {
		for _, m := range Marks(s) {
			check(m.Photo)
		}
	}
	for _, u := range v.report.Unassigned {
		check(u.Photo)
	}
	for file := range seen {
		delete(v.fresh, file)
	}
	for _, file := range v.More {
		v.differ(file, "the photo is in the folder but not in the report")
	}
}

func orNone(hash string) string {
	if hash == "" {
		return "none, as it cannot be read"
	}
	return hash
}

// measurements compares every measurement with the fresh one.
func (v *verifier) measurements() {
	for _, s := range v.report.Stations {
		for _, stated := range Marks(s) {
			where := fmt.Sprintf("%s, %s in %s", s.Station, stated.Mark, stated.Photo.File)
			if !slices.Contains(s.Photos, stated.Photo.File) {
				v.differ(where, "the station's photos do not name it")
			}
			if text := v.measurement(stated); text != "" {
				v.differ(where, "%s", text)
			}
		}
	}
	for _, u := range v.report.Unassigned {
		shot, there := v.fresh[u.Photo.File]
		if !there || !v.SameTool {
			continue
		}
		keys := compareValues("photo", reflect.ValueOf(u.Photo), reflect.ValueOf(shot.facts()))
		if len(keys) > 0 {
			v.differ(u.Photo.File, "%s", inWords(keys))
		}
	}
}

// measurement is what is wrong with one, "" when nothing is.
func (v *verifier) measurement(stated report.Measurement) string {
	if text := selfConsistent(stated, v.report.LimitMM); text != "" {
		return text
	}
	shot, there := v.fresh[stated.Photo.File]
	if !there {
		return ""
	}
	for _, found := range shot.Marks {
		if found.Mark == stated.Mark {
			return Compare(stated, found, v.SameTool)
		}
	}
	return fmt.Sprintf("no mark %q is known", stated.Mark)
}

// names holds the stations against the photos' names.
func (v *verifier) names() {
	stations, err := NewStations(v.report.Expected...)
	if err != nil {
		v.differ("expected", "%v", err)
		return
	}
	for _, s := range v.report.Stations {
		for _, file := range s.Photos {
			by, reason := stations.ByName(file)
			assigned, given := v.Assigned[file]
			switch {
			case given && assigned != s.Station:
				v.differ(s.Station, "%s is assigned to %s", file, assigned)
			case given || by == s.Station:
			case by != "":
				v.differ(s.Station, "%s is of %s by its name; when the survey assigned it, give the same --assign here", file, by)
			default:
				v.notes = append(v.notes, fmt.Sprintf("%s: that it is of %s rests on the report alone, as %s", file, s.Station,
					strings.SplitN(reason, ":", 2)[0]))
			}
		}
	}
}
