package evidence

import (
	"burngauge.dev/burngauge/pkg/report"
)

// column is one of a table; Group is the heading above it and its neighbours
// of the same Group, "" for none. Share is its part of the width.
type column struct {
	Head, Group string
	Share       float64
}

// cell is one field; State draws a badge before the text. A Number is not
// broken into lines where that can be helped.
type cell struct {
	Text, State string
	Number      bool
}

// number is a cell with a number, or the dash that stands for none.
func number(text string) cell { return cell{Text: or(text, "–"), Number: true} }

// Badge is the state's form, nil without one.
func (c cell) Badge() *drawing {
	if c.State == "" {
		return nil
	}
	d := badge(c.State)
	return &d
}

// row is one station's or photo's, with what must stand below it.
type row struct {
	Cells   []cell
	Remarks []string
}

// tableView is a table that both writers lay out.
type tableView struct {
	Columns []column
	Rows    []row
}

// span is a heading over several columns.
type span struct {
	Words string
	Count int
}

// groups are the headings above, nil when no column has one.
func (t tableView) groups() []span {
	var out []span
	any := false
	for _, c := range t.Columns {
		any = any || c.Group != ""
		if n := len(out); n > 0 && out[n-1].Words == c.Group {
			out[n-1].Count++
			continue
		}
		out = append(out, span{c.Group, 1})
	}
	if !any {
		return nil
	}
	return out
}

// numbers is the table of the burns, the earlier round next to this one.
func (c *content) numbers(list []entry) tableView {
	t := tableView{Columns: []column{{"station", "", 26}}}
	if c.before != nil {
		t.Columns = append(t.Columns, c.numberColumns("before")...)
		t.Columns = append(t.Columns, c.numberColumns("after")...)
	} else {
		t.Columns = append(t.Columns, c.numberColumns("")...)
		t.Columns = append(t.Columns, column{"clock", "", 13}, column{"rings", "", 15})
	}
	for _, e := range list {
		t.Rows = append(t.Rows, c.numbersRow(e))
	}
	return t
}

// numberColumns are those of one round.
func (c *content) numberColumns(group string) []column {
	unit := " " + c.units.Name()
	return []column{{"left/right" + unit, group, 18}, {"up/down" + unit, group, 18}, {"distance" + unit, group, 24}, {"verdict", group, 21}}
}

func (c *content) numbersRow(e entry) row {
	r := row{Cells: []cell{{Text: or(e.name, "unnamed")}}}
	if c.before != nil {
		r.Cells = append(r.Cells, numberCells(c.tell(burn(e.before)))...)
	}
	now := c.tell(burn(e.now))
	r.Cells = append(r.Cells, numberCells(now)...)
	if c.before == nil {
		r.Cells = append(r.Cells, number(now.clock), number(now.rings))
	}
	r.Remarks = append(remarks("before: ", burn(e.before)), remarks("", burn(e.now))...)
	return r
}

// numberCells fit numberColumns.
func numberCells(t told) []cell {
	return []cell{number(t.leftRight), number(t.upDown), number(t.distance), {Text: t.words, State: t.state}}
}

// pointers is the table of burn against pointer; no rows without a pointer.
func (c *content) pointers(list []entry) tableView {
	unit := " " + c.units.Name()
	t := tableView{Columns: []column{{"station", "", 26},
		{"left/right" + unit, "pointer", 18}, {"up/down" + unit, "pointer", 18}, {"distance" + unit, "pointer", 26},
		{"left/right" + unit, "beam, seen from the pointer", 22}, {"up/down" + unit, "beam, seen from the pointer", 22}, {"±" + unit, "beam, seen from the pointer", 14}}}
	for _, e := range list {
		m := pointer(e.now)
		if m == nil {
			continue
		}
		p := c.tell(m)
		r := row{Cells: []cell{{Text: or(e.name, "unnamed")}, number(p.leftRight), number(p.upDown), {Text: or(p.distance, p.words)}}}
		r.Cells = append(r.Cells, c.parting(e.now.BeamFromPointer)...)
		r.Remarks = append(remarks("pointer: ", m), remarks("burn: ", burn(e.now))...)
		t.Rows = append(t.Rows, r)
	}
	return t
}

// parting is where the beam lies as seen from the pointer.
func (c *content) parting(p *report.Parting) []cell {
	if p == nil {
		return []cell{number(""), number(""), number("")}
	}
	u := c.units.From(p.RadiusMM)
	return []cell{number(report.Side(c.units.From(p.RightMM), u, "left", "right")), number(report.Side(c.units.From(p.UpMM), u, "down", "up")), number(report.FormatValue(u, u))}
}

// others is the table of further photos of stations, which were not taken.
func (c *content) others(list []entry) tableView {
	unit := " " + c.units.Name()
	t := tableView{Columns: []column{{"station", "", 26}, {"photo", "", 52}, {"mark", "", 14}, {"distance" + unit, "", 26}, {"verdict", "", 30}, {"taken", "", 34}}}
	for _, e := range list {
		if e.now == nil {
			continue
		}
		for i := range e.now.Others {
			m := &e.now.Others[i]
			t.Rows = append(t.Rows, c.otherRow(e.name, m))
		}
	}
	return t
}

func (c *content) otherRow(station string, m *report.Measurement) row {
	o := c.tell(m)
	return row{
		Cells:   []cell{{Text: or(station, "unnamed")}, {Text: or(m.Photo.File, "unnamed")}, {Text: or(m.Mark, "–")}, number(o.distance), {Text: o.words, State: o.state}, {Text: when(m.Photo.Taken)}},
		Remarks: remarks("", m),
	}
}

// unassigned is the table of photos that belong to no station.
func (c *content) unassigned() tableView {
	t := tableView{Columns: []column{{"photo", "", 60}, {"reason", "", 80}, {"taken", "", 40}}}
	for _, u := range c.report.Unassigned {
		t.Rows = append(t.Rows, row{Cells: []cell{{Text: or(u.Photo.File, "unnamed")}, {Text: or(u.Reason, "no reason told")}, {Text: when(u.Photo.Taken)}}})
	}
	return t
}
