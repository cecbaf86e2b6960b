package evidence

import "burngauge.dev/burngauge/pkg/drawing"

// titled is a section with a table; nothing without rows.
func (l layout) titled(title, lead string, t tableView) {
	if len(t.Rows) == 0 {
		return
	}
	l.Heading(headFont, title, 22)
	if lead != "" {
		l.across(tableFont, lead)
	}
	l.table(t)
}

// table draws a table.
func (l layout) table(t tableView) {
	out := drawing.Table{Columns: t.Columns, Fonts: drawing.TableFonts{Head: bold(smallFont), Group: bold(tableFont), Cell: tableFont, Remark: smallFont}}
	for _, r := range t.Rows {
		row := drawing.TableRow{Remarks: r.Remarks}
		for i, c := range r.Cells {
			row.Cells = append(row.Cells, drawing.Cell{Text: c.Text, Sign: c.Badge(), Bold: i == 0, Whole: c.Number})
		}
		out.Rows = append(out.Rows, row)
	}
	l.Table(out)
}

// bare is the table without its remarks.
func (t tableView) bare() tableView {
	rows := make([]row, len(t.Rows))
	for i, r := range t.Rows {
		rows[i] = row{Cells: r.Cells}
	}
	return tableView{t.Columns, rows}
}

// remarks are a table's, apart from it: each line names its row.
func (l layout) remarks(t tableView) {
	l.Heading(headFont, "Remarks on the burns", bodyFont.Line())
	for _, r := range t.Rows {
		for _, words := range r.Remarks {
			l.across(smallFont, r.Cells[0].Text+": "+words)
		}
	}
}
