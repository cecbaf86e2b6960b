package evidence

import (
	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/report/phrase"
)

// A caption and its picture stand on one page, whatever the report says: texts
// of so many characters, twice as many in a remark, and so many remarks. The
// table has them in full.
const (
	captionRunes   = 100
	captionRemarks = 4
)

// pictures puts each overlay together with its measurement in the report.
func (c *wording) pictures(list []Picture) []pictureView {
	var out []pictureView
	for _, p := range list {
		out = append(out, c.picture(p))
	}
	return out
}

func (c *wording) picture(p Picture) pictureView {
	m := c.find(p)
	if m != nil && p.SHA256 == "" {
		p.SHA256 = m.Photo.SHA256
	}
	if m != nil && p.Taken == "" {
		p.Taken = m.Photo.Taken
	}
	photo, _ := drawing.NewPhoto(p.Data) // the sheet has been checked
	v := pictureView{Picture: p, photo: photo, Heading: drawing.Cut(phrase.Or(p.Station, "no station"), captionRunes)}
	if p.Mark != "" {
		v.Heading += ", " + drawing.Cut(phrase.Clean(p.Mark), captionRunes)
	}
	for _, words := range phrase.Few(phrase.Remarks("", m), captionRemarks) {
		v.Remarks = append(v.Remarks, drawing.Cut(words, 2*captionRunes))
	}
	t := c.InWords(m)
	v.State, v.Badge, v.Number = t.State, sign(t.State), t.Words
	if t.Distance != "" {
		v.Number = t.Distance + " " + c.Units.Name() + ", " + t.Words
	}
	v.Number = drawing.Cut(v.Number, captionRunes)
	v.Facts = []fact{{"file", phrase.Or(p.File, "unnamed")}, {"taken", drawing.Cut(phrase.When(p.Taken), captionRunes)}, {"SHA-256", drawing.Cut(phrase.Or(p.SHA256, "unknown"), captionRunes)}}
	v.Alt = phrase.Or(p.Alt, "Photo of the target at "+v.Heading+" with the fitted rings and the mark drawn in: "+v.Number)
	return v
}

// find is the measurement that a picture shows, nil when the report has none.
func (c *wording) find(p Picture) *report.Measurement {
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
