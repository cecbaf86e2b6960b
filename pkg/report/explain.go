package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
)

// WriteExplanation writes the decisions of each measurement for people, in the
// order in which they fell, a block for each measurement:
//
//	front-left.jpg  burn  refused: glare
//	  decided: locate.MostGlare 0.21 > 0.18: refused: glare; what it means: pkg/locate/settings.go
//	  light is reflected off the target: turn the lamp or the phone
//	  locate
//	     locate.LeastAgreement  298 of 945 > 0.12; nearest 0.1199  yes: a frame
//	  locate, frame 2 at 401, 680 px
//	     locate.Steepest        0.2125 > 0.994838                  no
//	  => locate.MostGlare       0.21 > 0.18                        yes: refused: glare
//
// A line is the name, value, test and limit, and what followed. A line for many
// things says for how many of them the test holds and which value was nearest to
// the limit. The line that decided a refusal stands first and has the arrow below.
// Decisions that the marks of one photo share are written once.
func WriteExplanation(w io.Writer, list []Measurement) error {
	var b strings.Builder
	for i, m := range list {
		if i > 0 {
			b.WriteByte('\n')
		}
		from := 0
		if i > 0 && list[i-1].Photo == m.Photo {
			from = shared(list[i-1].Decisions, m.Decisions)
		}
		explain(&b, m, from)
	}
	return send(w, []byte(b.String()))
}

// shared counts the decisions that two lists begin with.
func shared(a, b []Decision) int {
	for i := range min(len(a), len(b)) {
		if !a[i].same(b[i]) {
			return i
		}
	}
	return min(len(a), len(b))
}

func (d Decision) same(o Decision) bool {
	return d.Name == o.Name && d.About == o.About && d.Test == o.Test && d.Limit == o.Limit && d.Then == o.Then &&
		d.Outcome == o.Outcome && d.Of == o.Of && d.Holding == o.Holding && equal(d.Value, o.Value) && equal(d.AtPX, o.AtPX)
}

func equal[T comparable](a, b *T) bool { return a == b || a != nil && b != nil && *a == *b }

// refusedBy begins what follows from a decision that refuses a photo; the code comes
// next, and more may stand behind it.
const refusedBy = "refused: "

// RefusalCode is the code with which the photo is refused when the test holds, ""
// when something else follows.
func (d Decision) RefusalCode() string {
	text, refuses := strings.CutPrefix(d.Then, refusedBy)
	if !refuses {
		return ""
	}
	code, _, _ := strings.Cut(text, " ")
	return strings.TrimRight(code, ",;:")
}

// decided is the place of the decision that refused the photo, -1 when there is
// none: the last that refused with its code.
func (m Measurement) decided() int {
	if m.Refusal == nil {
		return -1
	}
	for i, d := range slices.Backward(m.Decisions) {
		if d.Outcome != "" && d.RefusalCode() == m.Refusal.Code {
			return i
		}
	}
	return -1
}

// DecidedBy is the decision that refused the photo, as far as it was recorded;
// false when the photo was not refused or what refused it was no limit.
func (m Measurement) DecidedBy() (Decision, bool) {
	if i := m.decided(); i >= 0 {
		return m.Decisions[i], true
	}
	return Decision{}, false
}

// explain writes one measurement's block; the decisions before from stand above.
func explain(b *strings.Builder, m Measurement, from int) {
	decided := m.decided()
	fmt.Fprintf(b, "%s  %s  %s", OneLine(m.Photo.File), OneLine(m.Mark), m.Status)
	if m.Refusal != nil {
		fmt.Fprintf(b, ": %s", m.Refusal.Code)
	}
	b.WriteByte('\n')
	if decided >= 0 {
		d := m.Decisions[decided]
		fmt.Fprintf(b, "  decided: %s %s: %s; what it means: %s\n", OneLine(d.Name), d.comparison(), OneLine(d.Then), d.settingsFile())
	}
	if m.Refusal != nil {
		fmt.Fprintf(b, "  %s\n", OneLine(m.Refusal.Text))
	}
	switch {
	case len(m.Decisions) == 0:
		b.WriteString("  no decision was recorded\n")
	case from > 0:
		fmt.Fprintf(b, "  the first %d decisions are those above\n", from)
		if decided >= 0 && decided < from {
			from = decided // what decided is never left out
		}
	}
	explainLines(b, m.Decisions, from, decided)
}

// explainLines writes the decisions from a place on, with a heading wherever the
// package or what is judged changes. Of lines that are the same one after another the
// first is written, with their number.
func explainLines(b *strings.Builder, list []Decision, from, decided int) {
	name, test := 0, 0
	for _, d := range list[from:] {
		name, test = max(name, len(d.Name)), max(test, len(d.comparison()))
	}
	line := func(i int) string {
		arrow := "  "
		if i == decided {
			arrow = "=>"
		}
		d := list[i]
		return fmt.Sprintf("  %s %-*s  %-*s  %s", arrow, name, OneLine(d.Name), test, d.comparison(), d.followed())
	}
	heading := ""
	for i := from; i < len(list); {
		if h := list[i].heading(); h != heading {
			heading = h
			fmt.Fprintf(b, "  %s\n", heading)
		}
		text, first := line(i), i
		for i < len(list) && list[i].heading() == heading && line(i) == text {
			i++
		}
		b.WriteString(text)
		if n := i - first; n > 1 {
			fmt.Fprintf(b, " (%d times)", n)
		}
		b.WriteByte('\n')
	}
}

// settingsFile is the source file whose comments say what the limit means: that of the
// package which the decision's name begins with. Those of pkg/ring stand in two.
func (d Decision) settingsFile() string {
	name, _, _ := strings.Cut(OneLine(d.Name), ".")
	switch name {
	case "burn", "pointer", "flat":
		return "pkg/spot/" + name + "/settings.go"
	case "ring":
		return "pkg/ring/settings*.go"
	}
	return "pkg/" + name + "/settings.go"
}

// heading is the package that decides and what it judges.
func (d Decision) heading() string {
	text, _, _ := strings.Cut(OneLine(d.Name), ".")
	if d.About != "" {
		text += ", " + OneLine(d.About)
	}
	if d.AtPX != nil {
		text += fmt.Sprintf(" at %.0f, %.0f px", d.AtPX[0], d.AtPX[1])
	}
	return text
}

// comparison is the test with its value and limit.
func (d Decision) comparison() string {
	value := "nothing"
	if d.Value != nil {
		value = fmt.Sprintf("%.4g", *d.Value)
	}
	if d.Of > 1 {
		return fmt.Sprintf("%d of %d %s %.6g; nearest %s", d.Holding, d.Of, d.Test, d.Limit, value)
	}
	return fmt.Sprintf("%s %s %.6g", value, d.Test, d.Limit)
}

// followed says whether the test holds, for any, and what followed.
func (d Decision) followed() string {
	if d.Holding == 0 {
		return "no"
	}
	return "yes: " + OneLine(d.Then)
}
