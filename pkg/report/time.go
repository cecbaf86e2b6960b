package report

import "time"

// Time is when the round was fired, as far as is known: when the last of the
// photos was taken that its stations rest on, or else when the report was made. An
// old set may be surveyed long after. A camera that writes no offset from UTC is
// taken to have that of the report. The error is that of a report whose own time
// cannot be read.
func (r *Report) Time() (time.Time, error) {
	created, err := time.Parse(time.RFC3339, r.Created)
	if err != nil {
		return time.Time{}, err
	}
	var last time.Time
	for _, s := range r.Stations {
		for _, m := range []*Measurement{s.Burn, s.Pointer} {
			if m == nil {
				continue
			}
			if t, ok := m.Photo.taken(created.Location()); ok && t.After(last) {
				last = t
			}
		}
	}
	if last.IsZero() {
		return created, nil
	}
	return last, nil
}

// taken is the photo's time, in the zone given when it names none; false when it
// has none.
func (p Photo) taken(zone *time.Location) (time.Time, bool) {
	if t, err := time.Parse(time.RFC3339, p.Taken); err == nil {
		return t, true
	}
	t, err := time.ParseInLocation("2006-01-02T15:04:05", p.Taken, zone)
	return t, err == nil
}
