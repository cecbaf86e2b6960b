package overlay

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"burngauge.dev/burngauge/pkg/report"
)

// offsetWords states an offset: "0.440 mm left, 0.860 mm up = 0.970 mm at 11:00,
// ring 0.485", with spaces that are tied where a line must not end. radius is that of the uncertainty in mm, 0 when it is not known.
func (s *scene) offsetWords(o report.Offset, radius float64) string {
	text := fmt.Sprintf("%s, %s = %s",
		s.sided(o.RightMM, radius, "left", "right"), s.sided(o.UpMM, radius, "down", "up"), s.rounded(o.DistanceMM, radius))
	if strings.Contains(o.Clock, ":") {
		text += " at\u00a0" + o.Clock
	}
	// Rings and distance grow nearly in proportion: near enough to know how many
	// digits mean something.
	return text + ", ring\u00a0" + report.FormatValue(o.Rings, radius*o.Rings/o.DistanceMM)
}

// sided states a signed length; one that rounds to zero has no side.
func (s *scene) sided(mm, radius float64, negative, positive string) string {
	side := positive
	if mm < 0 {
		side = negative
	}
	text := s.rounded(math.Abs(mm), radius)
	if !strings.ContainsAny(text, "123456789") {
		side = negative + " or " + positive
	}
	return text + " " + side
}

// rounded is a length with its unit, rounded to fit the uncertainty's radius.
func (s *scene) rounded(mm, radius float64) string {
	return report.FormatValue(s.units.From(mm), s.units.From(radius)) + "\u00a0" + s.units.Name()
}

// exact is a length that has no uncertainty, with its unit.
func (s *scene) exact(mm float64) string {
	return strings.ReplaceAll(s.units.Length(mm), " ", "\u00a0")
}

// uncertaintyWords states an uncertainty: "± 0.030 mm (95 %)".
func (s *scene) uncertaintyWords(u *report.Uncertainty) string {
	if u == nil {
		return "±\u00a0unknown"
	}
	return fmt.Sprintf("±\u00a0%s (%.3g\u00a0%%)", s.rounded(u.RadiusMM, u.RadiusMM), 100*u.Coverage)
}

// verdictWords states a verdict: "inside the limit of 2 mm". What is not clear
// has its probability.
func (s *scene) verdictWords(v report.Verdict) string {
	limit := "the limit of " + s.exact(v.LimitMM)
	switch v.State {
	case "inside", "outside":
		return v.State + " " + limit
	}
	return fmt.Sprintf("%s: %.0f\u00a0%% likely inside %s", v.State, 100*v.Probability, limit)
}

// notMeasured says why there is no number.
func notMeasured(m report.Measurement) string {
	if m.Refusal == nil {
		return m.Status
	}
	return m.Refusal.Text
}

// warningWords are the warnings of all marks, each once; one that not all marks
// have in common is said with its mark.
func warningWords(list []report.Measurement) []string {
	var texts []string
	for _, m := range list {
		for _, w := range m.Warnings {
			text := "Warning: " + w.Text
			if !sharedByAll(list, w) {
				text = "Warning, " + m.Mark + ": " + w.Text
			}
			if !slices.Contains(texts, text) {
				texts = append(texts, text)
			}
		}
	}
	return texts
}

func sharedByAll(list []report.Measurement, w report.Warning) bool {
	for _, m := range list {
		if !slices.Contains(m.Warnings, w) {
			return false
		}
	}
	return true
}

// viewWords state the target and the tilt: "Target plain-4, tilt 10°".
func (s *scene) viewWords() string {
	text := "Target " + s.res.Measurements[0].Target
	if s.seenFrom != nil {
		text += fmt.Sprintf(", tilt %.0f°", s.seenFrom.TiltDeg)
	}
	return text
}

// caption is everything that is said below the picture.
func (s *scene) caption(v view) []paragraph {
	list := []paragraph{{size: titleEm, bold: true, pieces: []piece{{text: s.res.Photo.File}}}}
	for i, m := range s.res.Measurements {
		if i > 0 && m.Refusal != nil && sameRefusal(m, s.res.Measurements[i-1]) {
			continue
		}
		list = append(list, s.markCaption(i)...)
	}
	for _, text := range warningWords(s.res.Measurements) {
		list = append(list, paragraph{size: bodyEm, pieces: []piece{{sample: warningSample, text: text}}})
	}
	return append(list, s.key(v)...)
}

func sameRefusal(a, b report.Measurement) bool {
	return a.Refusal != nil && b.Refusal != nil && *a.Refusal == *b.Refusal
}

// markCaption describes the i-th mark.
func (s *scene) markCaption(i int) []paragraph {
	m := s.res.Measurements[i]
	name := m.Mark
	if m.Offset == nil {
		if i+1 < len(s.res.Measurements) && sameRefusal(m, s.res.Measurements[i+1]) {
			name += " and " + s.res.Measurements[i+1].Mark
		}
		return []paragraph{
			{size: bodyEm, bold: true, pieces: []piece{{text: capital(name) + ": not measured"}}},
			{size: bodyEm, pieces: []piece{{text: capital(notMeasured(m))}}},
		}
	}
	radius := 0.0
	if m.Uncertainty != nil {
		radius = m.Uncertainty.RadiusMM
	}
	second := []piece{{text: s.uncertaintyWords(m.Uncertainty)}}
	if m.Verdict != nil {
		second = append(second, piece{text: s.verdictWords(*m.Verdict), chip: m.Verdict.State})
	}
	return []paragraph{
		{size: bodyEm, bold: true, pieces: []piece{{sample: markSample(m.Mark), text: capital(name) + " " + s.offsetWords(*m.Offset, radius)}}},
		{size: bodyEm, indent: true, pieces: second},
	}
}

// capital begins a sentence.
func capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + text[size:]
}

// key says what the lines are, and gives a scale.
func (s *scene) key(v view) []paragraph {
	if len(s.res.Measurements) == 0 {
		return nil
	}
	pieces := []piece{{text: s.viewWords()}}
	if s.res.ToPixel == nil {
		return []paragraph{{size: keyEm, rule: true, pieces: pieces}}
	}
	for _, kind := range []struct {
		seen bool
		pen  pen
		text string
	}{{true, seenPen, "ring seen"}, {false, unseenPen, "ring not seen"}} {
		if slices.ContainsFunc(s.rings, func(r ring) bool { return r.seen == kind.seen }) {
			pieces = append(pieces, piece{sample: lineSample(kind.pen), text: kind.text})
		}
	}
	if limit := s.limit(); limit > 0 {
		pieces = append(pieces, piece{sample: lineSample(limitPen), text: "limit " + s.exact(limit)})
	}
	if bar, ok := s.scaleBar(v); ok {
		pieces = append(pieces, bar)
	}
	return []paragraph{{size: keyEm, rule: true, pieces: pieces}}
}
