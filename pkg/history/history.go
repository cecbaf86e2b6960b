package history

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/report/phrase"
)

// past is a machine's reports in the order of their time.
type past struct {
	reports  []*report.Report
	times    []time.Time // of each report
	stations []string    // of all reports, in the order of the latest ones
	machines []string    // names that the reports give, each once
}

// InputError says that neither a table nor a chart can be made from the reports.
// Commands end with the exit code of wrong usage when they see it.
type InputError struct {
	Text string // what is wrong and what to do, lower case, one line
	Err  error  // the cause, may be nil
}

// Error is the text, with the cause when there is one.
func (e *InputError) Error() string {
	if e.Err == nil {
		return e.Text
	}
	return fmt.Sprintf("%s: %v", e.Text, e.Err)
}

// Unwrap is the cause.
func (e *InputError) Unwrap() error { return e.Err }

// newPast sorts the reports by the time of their rounds; the caller's list
// stays as it is.
func newPast(list []*report.Report) (*past, error) {
	if len(list) == 0 {
		return nil, &InputError{Text: "no reports: give a folder that burngauge survey has written reports to"}
	}
	type dated struct {
		report *report.Report
		time   time.Time
	}
	var all []dated
	for _, r := range list {
		t, err := r.Time()
		if err != nil {
			return nil, &InputError{Text: fmt.Sprintf("the report %q has no time that can be read: make it again", phrase.Clean(r.Job.Reference)), Err: err}
		}
		all = append(all, dated{r, t})
	}
	slices.SortStableFunc(all, func(a, b dated) int { return a.time.Compare(b.time) })
	p := &past{}
	for _, d := range all {
		p.reports, p.times = append(p.reports, d.report), append(p.times, d.time)
		if name := phrase.Or(d.report.Job.Machine, "not named"); !slices.Contains(p.machines, name) {
			p.machines = append(p.machines, name)
		}
	}
	p.listStations()
	return p, nil
}

// listStations begins with the latest report, whose stations matter most.
func (p *past) listStations() {
	for _, r := range slices.Backward(p.reports) {
		names := slices.Clone(r.Expected)
		for _, s := range r.Stations {
			names = append(names, s.Station)
		}
		for _, name := range names {
			if !slices.Contains(p.stations, name) {
				p.stations = append(p.stations, name)
			}
		}
	}
}

// burn is the station's measurement in one report, nil when there is none.
func (p *past) burn(r *report.Report, station string) *report.Measurement {
	for i := range r.Stations {
		if r.Stations[i].Station == station {
			return r.Stations[i].Burn
		}
	}
	return nil
}

// WriteTable writes a table of a machine's reports for people: for each, in
// the order of time, its date, reference and verdict and each station's
// distance from the centre with its uncertainty. Refusals and warnings stand in
// full below. Reports of more than one machine are set apart by a note.
func WriteTable(w io.Writer, reports []*report.Report, units report.Units) error {
	p, err := newPast(reports)
	if err != nil {
		return err
	}
	var b strings.Builder
	p.writeMachines(&b)
	var rows [][]string
	var notes []string
	for i, r := range p.reports {
		cells, said := p.line(i, r, phrase.Lengths{Units: units})
		rows = append(rows, cells)
		notes = append(notes, said...)
	}
	b.WriteString(report.Columns(p.head(units), rows...))
	if notes != nil {
		b.WriteString("\n" + strings.Join(notes, "\n") + "\n")
	}
	b.WriteString("\nDistances are from the rings' centre; the true place lies within ± of the place stated, in any direction.\n")
	if _, err := io.WriteString(w, b.String()); err != nil {
		return fmt.Errorf("writing the history: %w", err)
	}
	return nil
}

// writeMachines names the machine, and more than one as what it is: a mistake.
func (p *past) writeMachines(b *strings.Builder) {
	if len(p.machines) == 1 {
		fmt.Fprintf(b, "machine: %s, %s\n\n", p.machines[0], phrase.Plural(len(p.reports), "report"))
		return
	}
	fmt.Fprintf(b, "warning: these reports are of %d machines, whose numbers do not belong together:\n", len(p.machines))
	for _, name := range p.machines {
		fmt.Fprintf(b, "    %s\n", name)
	}
	b.WriteByte('\n')
}

func (p *past) head(units report.Units) []string {
	head := []string{"date", "reference"}
	if len(p.machines) > 1 {
		head = append(head, "machine")
	}
	head = append(head, "verdict", "limit")
	for _, name := range p.stations {
		head = append(head, phrase.Or(name, "unnamed")+" "+units.Name())
	}
	return head
}

// line is one report's, and what must be said of it.
func (p *past) line(i int, r *report.Report, s phrase.Lengths) (cells, notes []string) {
	date := p.times[i].Format("2006-01-02 15:04")
	cells = []string{date, phrase.Or(r.Job.Reference, "-")}
	if len(p.machines) > 1 {
		cells = append(cells, phrase.Or(r.Job.Machine, "not named"))
	}
	cells = append(cells, phrase.Or(r.Verdict.State, "-"), s.Units.Length(r.LimitMM))
	for _, name := range p.stations {
		m := p.burn(r, name)
		t := s.InWords(m)
		text := t.Distance
		switch {
		case m == nil:
			text = "-"
		case text == "":
			text = t.State
		}
		cells = append(cells, text)
		notes = append(notes, phrase.Remarks(date+" "+phrase.Or(name, "unnamed")+": ", m)...)
	}
	return cells, notes
}

// Unshown lists the names that a chart of the reports cannot show whole, each with what
// it is: `station "左後"`. The table has them.
func Unshown(reports []*report.Report) (list []string) {
	p, err := newPast(reports)
	if err != nil {
		return nil
	}
	for _, name := range p.machines {
		list = phrase.Unshown(list, "machine", name)
	}
	for _, name := range p.stations {
		list = phrase.Unshown(list, "station", name)
	}
	return list
}
