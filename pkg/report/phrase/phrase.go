// Package phrase puts parts of a report into the words that every paper about it
// shares: a measurement and its remarks, a time, a text from elsewhere.
//
// Reports come from files that anyone may have edited. Whatever is taken from one goes
// through Clean, which makes one printable line of it.
package phrase

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/typeface"
)

// States of a verdict.
const (
	Inside     = "inside"
	Outside    = "outside"
	Borderline = "borderline"
)

// States that a station can have beside those of a verdict.
const (
	Refused    = "refused"
	Unreadable = "unreadable"
	Missing    = "missing"
)

// Mark is one measurement in words, each number with its uncertainty's digits and
// without its unit. Without a number only State and Words are set.
type Mark struct {
	LeftRight, UpDown, Distance, Clock, Rings string
	State                                     string // one of the constants above
	Words                                     string // the state, with what explains it
}

// Lengths writes lengths in a unit.
type Lengths struct{ Units report.Units }

// InWords puts a measurement into words; nil is a station without one.
func (l Lengths) InWords(m *report.Measurement) Mark {
	switch {
	case m == nil:
		return Mark{State: Missing, Words: "not measured"}
	case m.Offset == nil || m.Status != report.Measured:
		return unmeasured(m)
	}
	o, radius := m.Offset, Radius(m)
	u := l.Units.From(radius)
	t := Mark{
		LeftRight: report.Side(l.Units.From(o.RightMM), u, "left", "right"),
		UpDown:    report.Side(l.Units.From(o.UpMM), u, "down", "up"),
		Distance:  report.Format(l.Units.From(o.DistanceMM), u),
		Clock:     Clean(o.Clock),
		Rings:     report.FormatValue(o.Rings, radius*o.Rings/o.DistanceMM), // rings grow with the distance
		State:     Borderline,
		Words:     "no verdict",
	}
	if v := m.Verdict; v != nil {
		t.State, t.Words = StateOf(v.State), Clean(v.State)
		if t.State == Borderline {
			t.Words = fmt.Sprintf("borderline, %.0f %% likely inside", 100*v.Probability)
		}
	}
	return t
}

// unmeasured is for a photo that gave no number.
func unmeasured(m *report.Measurement) Mark {
	t := Mark{State: Refused, Words: "refused"}
	if m.Status == report.Unreadable {
		t = Mark{State: Unreadable, Words: "unreadable"}
	}
	if m.Refusal != nil && m.Refusal.Code != "" {
		t.Words += ": " + Clean(m.Refusal.Code)
	}
	return t
}

// Radius is that of the circle around the stated place which holds the true one, mm; 0
// when it is not known.
func Radius(m *report.Measurement) float64 {
	if m.Uncertainty == nil {
		return 0
	}
	return m.Uncertainty.RadiusMM
}

// StateOf keeps to the states that are drawn; anything else is borderline,
// which claims nothing.
func StateOf(state string) string {
	switch state {
	case Inside, Outside, report.Incomplete:
		return state
	}
	return Borderline
}

// Remarks are a measurement's refusal and warnings. They belong wherever its
// number is shown; prefix says whose they are. None of a nil measurement.
func Remarks(prefix string, m *report.Measurement) []string {
	if m == nil {
		return nil
	}
	var out []string
	if m.Refusal != nil {
		out = append(out, prefix+"no number ("+Clean(m.Refusal.Code)+"): "+Clean(m.Refusal.Text))
	}
	for _, w := range m.Warnings {
		out = append(out, prefix+"warning ("+Clean(w.Code)+"): "+Clean(w.Text))
	}
	return out
}

// When writes a time of RFC 3339 as people do; what is none stays as it is.
func When(text string) string {
	if text == "" {
		return "time unknown"
	}
	if t, err := time.Parse(time.RFC3339, text); err == nil {
		return Moment(t)
	}
	return strings.Replace(Clean(text), "T", " ", 1)
}

// Moment is a time with its offset from UTC, as the camera or clock had it.
func Moment(t time.Time) string { return t.Format("2006-01-02 15:04:05 -07:00") }

// mostRunes of a text from elsewhere stand in a field, which a page must hold
// whole: more than a file's name can have (255 bytes), or a warning needs.
const mostRunes = 300

// Clean makes one line of a text from elsewhere, of no more than mostRunes.
func Clean(text string) string { return drawing.Cut(drawing.Plain(text), mostRunes) }

// Or is the text, cleaned, or what stands for an empty one.
func Or(text, empty string) string {
	if text = Clean(text); text == "" {
		return empty
	}
	return text
}

// Few is a list of no more than most, with a word about the rest.
func Few(list []string, most int) []string {
	if len(list) <= most {
		return list
	}
	return append(slices.Clone(list[:most]), fmt.Sprintf("and %d more: see the table", len(list)-most))
}

// Plural is "1 photo", "2 photos".
func Plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return strconv.Itoa(n) + " " + word + "s"
}

// Unshown appends a text with its label to the list, once, when the fonts of PDFs and
// charts lack letters for it: they have Latin, Greek and Cyrillic ones, and a question
// mark for every other.
func Unshown(list []string, label, text string) []string {
	line := fmt.Sprintf("%s %q", label, text)
	if typeface.Regular().Has(text) || slices.Contains(list, line) {
		return list
	}
	return append(list, line)
}
