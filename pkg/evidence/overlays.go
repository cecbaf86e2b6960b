package evidence

import "burngauge.dev/burngauge/pkg/report"

// pictures puts each overlay together with its measurement in the report.
func (c *content) pictures(list []Picture) []pictureView {
	var out []pictureView
	for _, p := range list {
		out = append(out, c.picture(p))
	}
	return out
}

func (c *content) picture(p Picture) pictureView {
	m := c.find(p)
	if m != nil && p.SHA256 == "" {
		p.SHA256 = m.Photo.SHA256
	}
	if m != nil && p.Taken == "" {
		p.Taken = m.Photo.Taken
	}
	v := pictureView{Picture: p, Heading: or(p.Station, "no station"), Remarks: remarks("", m)}
	if p.Mark != "" {
		v.Heading += ", " + clean(p.Mark)
	}
	t := c.tell(m)
	v.State, v.Badge, v.Number = t.state, badge(t.state), t.words
	if t.distance != "" {
		v.Number = t.distance + " " + c.units.Name() + ", " + t.words
	}
	v.Facts = []fact{{"file", or(p.File, "unnamed")}, {"taken", when(p.Taken)}, {"SHA-256", or(p.SHA256, "unknown")}}
	v.Alt = or(p.Alt, "Photo of the target at "+v.Heading+" with the fitted rings and the mark drawn in: "+v.Number)
	return v
}

// find is the measurement that a picture shows, nil when the report has none.
func (c *content) find(p Picture) *report.Measurement {
	for i := range c.report.Stations {
		s := &c.report.Stations[i]
		if s.Station != p.Station {
			continue
		}
		for _, m := range marks(s) {
			if m.Photo.File == p.File && (p.Mark == "" || m.Mark == p.Mark) {
				return m
			}
		}
	}
	return nil
}
