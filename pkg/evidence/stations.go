package evidence

import "burngauge.dev/burngauge/pkg/report"

// States of a verdict.
const (
	inside     = "inside"
	outside    = "outside"
	borderline = "borderline"
)

// entry is one station with what was measured there in both rounds.
type entry struct {
	name        string
	now, before *report.Station // nil: not in that report
}

// entries lists every station of either report: those expected first,
// then the report's further ones, then those of the earlier round alone.
func entries(now, before *report.Report) []entry {
	var list []entry
	index := map[string]int{}
	add := func(name string) *entry {
		i, known := index[name]
		if !known {
			i = len(list)
			index[name] = i
			list = append(list, entry{name: name})
		}
		return &list[i]
	}
	for _, name := range now.Expected {
		add(name)
	}
	for i := range now.Stations {
		s := &now.Stations[i]
		if e := add(s.Station); e.now == nil {
			e.now = s
			continue
		}
		list = append(list, entry{name: s.Station, now: s}) // twice in the report: neither is hidden
	}
	if before == nil {
		return list
	}
	for i := range before.Stations {
		s := &before.Stations[i]
		if e := add(s.Station); e.before == nil {
			e.before = s
			continue
		}
		list = append(list, entry{name: s.Station, before: s})
	}
	return list
}

// burn is the station's measurement, nil when there is none.
func burn(s *report.Station) *report.Measurement {
	if s == nil {
		return nil
	}
	return s.Burn
}

// pointer is the red dot's measurement, nil when there is none.
func pointer(s *report.Station) *report.Measurement {
	if s == nil {
		return nil
	}
	return s.Pointer
}

// remarks are a measurement's refusal and warnings. They belong wherever its
// number is shown; prefix says whose they are.
func remarks(prefix string, m *report.Measurement) []string {
	if m == nil {
		return nil
	}
	var out []string
	if m.Refusal != nil {
		out = append(out, prefix+"no number ("+clean(m.Refusal.Code)+"): "+clean(m.Refusal.Text))
	}
	for _, w := range m.Warnings {
		out = append(out, prefix+"warning ("+clean(w.Code)+"): "+clean(w.Text))
	}
	return out
}

// marks are all of a station's measurements.
func marks(s *report.Station) []*report.Measurement {
	var out []*report.Measurement
	for _, m := range []*report.Measurement{s.Burn, s.Pointer} {
		if m != nil {
			out = append(out, m)
		}
	}
	for i := range s.Others {
		out = append(out, &s.Others[i])
	}
	return out
}
