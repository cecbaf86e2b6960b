package evidence

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"burngauge.dev/burngauge/pkg/caution"
	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/report/phrase"
)

// fact is a label and what belongs to it.
type fact struct{ Label, Text string }

// verdictView is one round's verdict in words.
type verdictView struct {
	State, Headline string
	Badge           drawing.Figure
	Text            string // the sentence that names stations and distances
	Remarks         string // how many warnings and refusals the table has, "" for none
}

// pictureView is an overlay with what must stand by it.
type pictureView struct {
	Picture
	photo   drawing.Photo
	Heading string
	Number  string // the offset and verdict
	State   string
	Badge   drawing.Figure
	Facts   []fact
	Remarks []string
}

// wording is the whole sheet in words and drawings, without a layout.
type wording struct {
	phrase.Lengths
	report, before *report.Report

	Title      string
	Job        []fact
	Notes      []string // lines
	LongNotes  bool     // too many for the first page
	Verdict    verdictView
	Before     *verdictView
	Map        bedView
	Numbers    tableView
	Reading    []string // how to read the numbers
	Pictures   []pictureView
	Pointer    tableView
	Target     []fact
	Rule       string
	Others     tableView
	Unassigned tableView
	Integrity  []string
	Cautions   []string
	Foot       string
}

// newWording puts a checked sheet into words.
func newWording(s Sheet) *wording {
	c := &wording{Lengths: phrase.Lengths{Units: s.Units}, report: s.Report, before: s.Before}
	list := entries(s.Report, s.Before)
	c.Title = "Alignment evidence"
	c.Job = c.job(s)
	c.Notes, c.LongNotes = notes(s.Report.Job.Notes)
	c.Verdict = c.verdict(s.Report)
	if s.Before != nil {
		v := c.verdict(s.Before)
		c.Before = &v
	}
	c.Map, c.Numbers, c.Reading = c.bed(list), c.numbers(list), c.reading()
	c.Pictures = c.pictures(s.Pictures)
	c.Pointer = c.pointers(list)
	c.Target, c.Rule = c.target(), drawing.Plain(s.Report.Rule)
	if c.Rule == "" {
		c.Rule = "not stated in the report"
	}
	c.Others, c.Unassigned = c.others(list), c.unassigned()
	c.Integrity, c.Cautions = c.integrity(), caution.Lines()
	c.Foot = c.foot(s)
	return c
}

// job is what the sheet is filed under.
func (c *wording) job(s Sheet) []fact {
	j := s.Report.Job
	facts := []fact{
		{"reference", phrase.Or(j.Reference, "not given")}, {"machine", phrase.Or(j.Machine, "not given")},
		{"technician", phrase.Or(j.Technician, "not given")}, {"site", phrase.Or(j.Site, "not given")},
		{"measured", phrase.When(s.Report.Created)},
	}
	if s.Before != nil {
		earlier := phrase.When(s.Before.Created)
		if ref := phrase.Clean(s.Before.Job.Reference); ref != "" && ref != phrase.Clean(j.Reference) {
			earlier += ", reference " + ref
		}
		facts = append(facts, fact{"compared with", earlier})
	}
	return facts
}

// Notes that are longer than this stand behind the first page, which must hold
// the map and the table.
const (
	shortNotesLines = 4
	shortNotesRunes = 400
)

// notes are the job's, line by line.
func notes(text string) (lines []string, long bool) {
	for line := range strings.Lines(strings.TrimSpace(text)) {
		lines = append(lines, drawing.Plain(line))
	}
	return lines, len(lines) > shortNotesLines || utf8.RuneCountInString(text) > shortNotesRunes
}

// verdictRunes bounds the verdict's sentence, which must fit a page: twenty
// stations outside, each with its distance and direction, take 800.
const verdictRunes = 1500

// verdict is that of one round.
func (c *wording) verdict(r *report.Report) verdictView {
	state, limit := phrase.StateOf(r.Verdict.State), c.Units.Length(r.LimitMM)
	v := verdictView{State: state, Badge: sign(state), Text: drawing.Cut(drawing.Plain(r.VerdictText(c.Units)), verdictRunes), Remarks: tally(r)}
	switch state {
	case phrase.Inside:
		v.Headline = "Inside: every station lies within " + limit + " of the centre"
	case phrase.Outside:
		v.Headline = "Outside: not every station lies within " + limit + " of the centre"
	case report.Incomplete:
		v.Headline = "Incomplete: not every station has a number"
	default:
		v.Headline = "Borderline: too near the limit of " + limit + " to be sure of every station"
	}
	return v
}

// tally counts what the reader must not overlook.
func tally(r *report.Report) string {
	warnings, refusals := 0, 0
	for i := range r.Stations {
		for _, m := range marks(&r.Stations[i]) {
			warnings += len(m.Warnings)
			if m.Refusal != nil {
				refusals++
			}
		}
	}
	var parts []string
	if warnings > 0 {
		parts = append(parts, phrase.Plural(warnings, "warning"))
	}
	if refusals > 0 {
		parts = append(parts, phrase.Plural(refusals, "mark")+" without a number")
	}
	if n := len(r.Unassigned); n > 0 {
		parts = append(parts, phrase.Plural(n, "photo")+" of no station")
	}
	if parts == nil {
		return ""
	}
	return "Beware: " + strings.Join(parts, ", ") + "; in full below."
}

// reading explains the numbers.
func (c *wording) reading() []string {
	return []string{
		"Left, right, up, down and the clock are as one faces the target with its index mark at the top (12:00).",
		"The number after ± is the radius of the circle around the stated place that holds the true place in " + c.coverage() + " of 100 cases.",
	}
}

// coverage is in percent, from the first number that has one.
func (c *wording) coverage() string {
	for i := range c.report.Stations {
		for _, m := range marks(&c.report.Stations[i]) {
			if m.Uncertainty != nil && m.Uncertainty.Coverage > 0 {
				return fmt.Sprintf("%.0f", 100*m.Uncertainty.Coverage)
			}
		}
	}
	return "95"
}

// target is what was measured on.
func (c *wording) target() []fact {
	t := c.report.Target
	var rings []string
	for _, d := range t.RingsMM {
		rings = append(rings, c.Units.Length(d))
	}
	facts := []fact{
		{"target", phrase.Clean(t.Name)},
		{"rings across", strings.Join(rings, ", ")},
		{"standard uncertainty of a ring", c.Units.Length(t.RingsUMM)},
		{"tape above the rings", c.Units.Tape(t)},
		{"diameters checked by", phrase.Or(t.Checked, "not stated")},
		{"limit", c.Units.Length(c.report.LimitMM) + " from the centre"},
	}
	tool := strings.TrimSpace(phrase.Clean(c.report.Tool.Name) + " " + phrase.Clean(c.report.Tool.Version))
	if c.report.Tool.OpenCV != "" {
		tool += ", OpenCV " + phrase.Clean(c.report.Tool.OpenCV)
	}
	return append(facts, fact{"measured with", phrase.Or(tool, "not stated")})
}

// integrity says what the check value is and is not.
func (c *wording) integrity() []string {
	i := c.report.Integrity
	if i == nil || i.Digest == "" {
		return []string{"This report carries no check value: it has not been written to a file yet."}
	}
	return []string{
		phrase.Clean(i.Algorithm) + ": " + phrase.Clean(i.Digest),
		"This is a check value over everything else in the report. It shows a slip or a damaged file. It is not a signature: whoever edits the report can make a new one. " +
			"burngauge verify measures the photos again and compares.",
	}
}

// foot stands at the end of every page.
func (c *wording) foot(s Sheet) string {
	parts := []string{c.Title}
	for _, text := range []string{s.Report.Job.Reference, s.Report.Job.Machine} {
		if text = phrase.Clean(text); text != "" {
			parts = append(parts, text)
		}
	}
	if !s.Made.IsZero() {
		parts = append(parts, "drawn "+phrase.Moment(s.Made))
	}
	if program := phrase.Clean(s.Program); program != "" {
		parts = append(parts, program)
	}
	return strings.Join(parts, " · ")
}
