package evidence

import "burngauge.dev/burngauge/pkg/typeface"

// pad is the blank inside a table's fields, mm.
const pad = 0.9

// titled is a section with a table; nothing without rows.
func (p *paper) titled(title, lead string, t tableView) {
	if len(t.Rows) == 0 {
		return
	}
	p.heading(title, 22)
	if lead != "" {
		p.flow(lead, tableSize)
	}
	p.table(t)
}

// table draws a table; its heading is repeated on every page it runs over.
func (p *paper) table(t tableView) {
	if len(t.Rows) == 0 {
		return
	}
	widths := t.widths(p.width())
	p.tableHead(t, widths)
	for _, r := range t.Rows {
		blocks, tall := fields(r, widths)
		notes := p.notes(r.Remarks)
		if p.need(tall + keptTogether(notes)) {
			p.tableHead(t, widths)
		}
		p.fields(r, blocks, widths)
		p.y += tall
		for _, b := range notes {
			if p.need(b.tall()) {
				p.tableHead(t, widths)
			}
			p.put(b, p.y)
			p.y += b.tall()
		}
		p.y += 0.4
		p.rule(p.y, paleInk)
		p.y += 0.4
	}
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
func (p *paper) remarks(t tableView) {
	p.heading("Remarks on the burns", bodySize*leading)
	for _, r := range t.Rows {
		for _, words := range r.Remarks {
			p.flow(r.Cells[0].Text+": "+words, smallSize)
		}
	}
}

// widths shares the page's width out, mm.
func (t tableView) widths(whole float64) []float64 {
	total := 0.0
	for _, c := range t.Columns {
		total += c.Share
	}
	out := make([]float64, len(t.Columns))
	for i, c := range t.Columns {
		out[i] = whole * c.Share / total
	}
	return out
}

// tableHead draws the headings, the groups' above the columns'.
func (p *paper) tableHead(t tableView, widths []float64) {
	if groups := t.groups(); groups != nil {
		x, i := margin, 0
		for _, g := range groups {
			wide := 0.0
			for range g.Count {
				wide += widths[i]
				i++
			}
			b := wrapped(text{words: g.Words, size: tableSize, bold: true, ink: ink, x: x + pad}, wide-2*pad)
			p.put(b, p.y)
			if g.Words != "" {
				p.pen(ink, 0.2)
				p.doc.Line(x+pad, p.y+tableSize*leading+0.3, x+wide-pad, p.y+tableSize*leading+0.3)
			}
			x += wide
		}
		p.y += tableSize*leading + 0.6
	}
	r := row{}
	for _, c := range t.Columns {
		r.Cells = append(r.Cells, cell{Text: c.Head})
	}
	blocks, tall := make([]block, len(r.Cells)), 0.0
	for i, c := range r.Cells {
		blocks[i] = wrapped(text{words: c.Text, size: smallSize, bold: true, ink: ink}, widths[i]-2*pad)
		tall = max(tall, blocks[i].tall())
	}
	p.fields(r, blocks, widths)
	p.y += tall
	p.rule(p.y, ink)
	p.y += 0.6
}

// fields breaks a row's texts to its columns and gives the row's height.
func fields(r row, widths []float64) (blocks []block, tall float64) {
	for i, c := range r.Cells {
		room := widths[i] - 2*pad
		if c.State != "" {
			room -= tableSize * 1.3
		}
		size := tableSize
		if wide := typeface.Regular().Width(c.Text, size); c.Number && wide > room {
			size = max(smallSize*0.8, size*room/wide) // a number stays whole as long as it can be read
		}
		b := wrapped(text{words: c.Text, size: size, ink: ink, bold: i == 0}, room)
		blocks = append(blocks, b)
		tall = max(tall, b.tall())
	}
	return blocks, tall
}

// fields draws a row whose upper edge is p.y.
func (p *paper) fields(r row, blocks []block, widths []float64) {
	x := margin
	for i, b := range blocks {
		b.x = x + pad
		if state := r.Cells[i].State; state != "" {
			p.draw(badge(state), frame{b.x, p.y + 0.12*tableSize, tableSize * 1.05})
			b.x += tableSize * 1.3
		}
		p.put(b, p.y)
		x += widths[i]
	}
}

// notes are a row's remarks, across the table below it.
func (p *paper) notes(remarks []string) (blocks []block) {
	const indent = 4.0
	for _, words := range remarks {
		blocks = append(blocks, wrapped(text{words: words, size: smallSize, ink: ink, x: margin + indent}, p.width()-indent-pad))
	}
	return blocks
}

// mostTogether is the height of notes that a row does not part from, mm.
const mostTogether = 40.0

func keptTogether(notes []block) float64 {
	tall := 0.0
	for _, b := range notes {
		if tall+b.tall() > mostTogether {
			break
		}
		tall += b.tall()
	}
	return tall
}
