package evidence

import "burngauge.dev/burngauge/pkg/report"

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
