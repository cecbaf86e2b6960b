package evidence

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/report"
)

// States that a station can have beside those of a verdict.
const (
	refused    = "refused"
	unreadable = "unreadable"
	missing    = "missing"
)

// markWords is one measurement in words, each number with its uncertainty's digits.
// Without a number only state is set.
type markWords struct {
	leftRight, upDown, distance, clock, rings string
	state                                     string // inside, outside, borderline, refused, unreadable or missing
	words                                     string // the state, with what explains it
}

// lengths writes lengths in a unit.
type lengths struct{ units report.Units }

// inWords puts a measurement into words; nil is a station without one.
func (l lengths) inWords(m *report.Measurement) markWords {
	switch {
	case m == nil:
		return markWords{state: missing, words: "not measured"}
	case m.Offset == nil || m.Status != report.Measured:
		return unmeasured(m)
	}
	o, radius := m.Offset, radiusOf(m)
	u := l.units.From(radius)
	t := markWords{
		leftRight: report.Side(l.units.From(o.RightMM), u, "left", "right"),
		upDown:    report.Side(l.units.From(o.UpMM), u, "down", "up"),
		distance:  report.Format(l.units.From(o.DistanceMM), u),
		clock:     clean(o.Clock),
		rings:     report.FormatValue(o.Rings, radius*o.Rings/o.DistanceMM), // rings grow with the distance
		state:     borderline,
		words:     "no verdict",
	}
	if v := m.Verdict; v != nil {
		t.state, t.words = stateOf(v.State), clean(v.State)
		if t.state == borderline {
			t.words = fmt.Sprintf("borderline, %.0f %% likely inside", 100*v.Probability)
		}
	}
	return t
}

// unmeasured is for a photo that gave no number.
func unmeasured(m *report.Measurement) markWords {
	t := markWords{state: refused, words: "refused"}
	if m.Status == report.Unreadable {
		t = markWords{state: unreadable, words: "unreadable"}
	}
	if m.Refusal != nil && m.Refusal.Code != "" {
		t.words += ": " + clean(m.Refusal.Code)
	}
	return t
}

// radiusOf is the circle's radius in mm, 0 when it is not known.
func radiusOf(m *report.Measurement) float64 {
	if m.Uncertainty == nil {
		return 0
	}
	return m.Uncertainty.RadiusMM
}

// stateOf keeps to the states that are drawn; anything else is borderline,
// which claims nothing.
func stateOf(state string) string {
	switch state {
	case inside, outside, report.Incomplete:
		return state
	}
	return borderline
}

// when writes a time of RFC 3339 as people do; what is none stays as it is.
func when(text string) string {
	if text == "" {
		return "time unknown"
	}
	if t, err := time.Parse(time.RFC3339, text); err == nil {
		return moment(t)
	}
	return strings.Replace(clean(text), "T", " ", 1)
}

// moment is a time with its offset from UTC, as the camera or clock had it.
func moment(t time.Time) string { return t.Format("2006-01-02 15:04:05 -07:00") }

// mostRunes of a text from elsewhere stand in a field, which a page must hold
// whole: more than a file's name can have (255 bytes), or a warning needs.
const mostRunes = 300

// clean makes one line of a text from elsewhere, of no more than mostRunes.
func clean(text string) string { return drawing.Cut(drawing.Plain(text), mostRunes) }

// few is a list of no more than most, with a word about the rest.
func few(list []string, most int) []string {
	if len(list) <= most {
		return list
	}
	return append(slices.Clone(list[:most]), fmt.Sprintf("and %d more: see the table", len(list)-most))
}

// or is the text, or what stands for an empty one.
func or(text, empty string) string {
	if text = clean(text); text == "" {
		return empty
	}
	return text
}

// plural is "1 photo", "2 photos".
func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return strconv.Itoa(n) + " " + word + "s"
}
