package evidence

import (
	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/report/phrase"
)

// column is one of a table: its heading, the one above it and its neighbours of the
// same group ("" for none), and its share of the width.
func column(head, group string, share float64) drawing.Column {
	return drawing.Column{Head: head, Group: group, Share: share}
}

// cell is one field; State draws a badge before the text. A Number is not
// broken into lines where that can be helped.
type cell struct {
	Text, State string
	Number      bool
}

// number is a cell with a number, or the dash that stands for none.
func number(text string) cell { return cell{Text: phrase.Or(text, "–"), Number: true} }

// Badge is the state's form, nil without one.
func (c cell) Badge() *drawing.Figure {
	if c.State == "" {
		return nil
	}
	f := sign(c.State)
	return &f
}

// row is one station's or photo's, with what must stand below it.
type row struct {
	Cells   []cell
	Remarks []string
}

// tableView is a table that both writers lay out.
type tableView struct {
	Columns []drawing.Column
	Rows    []row
}

// numbers is the table of the burns, the earlier round next to this one.
func (c *wording) numbers(list []entry) tableView {
	t := tableView{Columns: []drawing.Column{column("station", "", 26)}}
	if c.before != nil {
		t.Columns = append(t.Columns, c.numberColumns("before")...)
		t.Columns = append(t.Columns, c.numberColumns("after")...)
	} else {
		t.Columns = append(t.Columns, c.numberColumns("")...)
		t.Columns = append(t.Columns, column("clock", "", 13), column("rings", "", 15))
	}
	for _, e := range list {
		t.Rows = append(t.Rows, c.numbersRow(e))
	}
	return t
}

// numberColumns are those of one round.
func (c *wording) numberColumns(group string) []drawing.Column {
	unit := " " + c.Units.Name()
	return []drawing.Column{column("left/right"+unit, group, 18), column("up/down"+unit, group, 18), column("distance"+unit, group, 24), column("verdict", group, 21)}
}

func (c *wording) numbersRow(e entry) row {
	r := row{Cells: []cell{{Text: phrase.Or(e.name, "unnamed")}}}
	if c.before != nil {
		r.Cells = append(r.Cells, numberCells(c.InWords(burn(e.before)))...)
	}
	now := c.InWords(burn(e.now))
	r.Cells = append(r.Cells, numberCells(now)...)
	if c.before == nil {
		r.Cells = append(r.Cells, number(now.Clock), number(now.Rings))
	}
	r.Remarks = append(phrase.Remarks("before: ", burn(e.before)), phrase.Remarks("", burn(e.now))...)
	return r
}

// numberCells fit numberColumns.
func numberCells(t phrase.Mark) []cell {
	return []cell{number(t.LeftRight), number(t.UpDown), number(t.Distance), {Text: t.Words, State: t.State}}
}

// pointers is the table of burn against pointer; no rows without a pointer.
func (c *wording) pointers(list []entry) tableView {
	unit := " " + c.Units.Name()
	t := tableView{Columns: []drawing.Column{column("station", "", 26),
		column("left/right"+unit, "pointer", 18), column("up/down"+unit, "pointer", 18), column("distance"+unit, "pointer", 26),
		column("left/right"+unit, "beam, seen from the pointer", 22), column("up/down"+unit, "beam, seen from the pointer", 22), column("±"+unit, "beam, seen from the pointer", 14)}}
	for _, e := range list {
		m := pointer(e.now)
		if m == nil {
			continue
		}
		p := c.InWords(m)
		r := row{Cells: []cell{{Text: phrase.Or(e.name, "unnamed")}, number(p.LeftRight), number(p.UpDown), {Text: phrase.Or(p.Distance, p.Words)}}}
		r.Cells = append(r.Cells, c.parting(e.now.BeamFromPointer)...)
		r.Remarks = append(phrase.Remarks("pointer: ", m), phrase.Remarks("burn: ", burn(e.now))...)
		t.Rows = append(t.Rows, r)
	}
	return t
}

// parting is where the beam lies as seen from the pointer.
func (c *wording) parting(p *report.Parting) []cell {
	if p == nil {
		return []cell{number(""), number(""), number("")}
	}
	u := c.Units.From(p.RadiusMM)
	return []cell{number(report.Side(c.Units.From(p.RightMM), u, "left", "right")), number(report.Side(c.Units.From(p.UpMM), u, "down", "up")), number(report.FormatValue(u, u))}
}

// others is the table of further photos of stations, which were not taken.
func (c *wording) others(list []entry) tableView {
	unit := " " + c.Units.Name()
	t := tableView{Columns: []drawing.Column{column("station", "", 26), column("photo", "", 52), column("mark", "", 14), column("distance"+unit, "", 26), column("verdict", "", 30), column("taken", "", 34)}}
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

func (c *wording) otherRow(station string, m *report.Measurement) row {
	o := c.InWords(m)
	return row{
		Cells:   []cell{{Text: phrase.Or(station, "unnamed")}, {Text: phrase.Or(m.Photo.File, "unnamed")}, {Text: phrase.Or(m.Mark, "–")}, number(o.Distance), {Text: o.Words, State: o.State}, {Text: phrase.When(m.Photo.Taken)}},
		Remarks: phrase.Remarks("", m),
	}
}

// unassigned is the table of photos that belong to no station.
func (c *wording) unassigned() tableView {
	t := tableView{Columns: []drawing.Column{column("photo", "", 60), column("reason", "", 80), column("taken", "", 40)}}
	for _, u := range c.report.Unassigned {
		t.Rows = append(t.Rows, row{Cells: []cell{{Text: phrase.Or(u.Photo.File, "unnamed")}, {Text: phrase.Or(u.Reason, "no reason stated")}, {Text: phrase.When(u.Photo.Taken)}}})
	}
	return t
}
