package evidence

import "burngauge.dev/burngauge/pkg/typeface"

// Cells of the map at its full scale, mm.
const (
	bedPad      = 1.5
	bedMini     = 26.0
	furtherMini = 24.0
	furtherCols = 5
	besideCols  = 3
	cellGap     = 3.0
	besideRoom  = 32.0 // for words beside a drawing: "0.414 right, 3.076 up" on one line
)

// tightness is how map and table are made to share the first page.
type tightness struct {
	scale float64 // of the map's drawings
	apart bool    // remarks stand further on, and neither in the table nor on the map
}

// tightenings are tried in turn. At the smallest scale a target of four rings is 14 mm
// wide, and its inner ring still shows. Remarks leave the table only when no
// scale is small enough with them: a number is best read with what is to be
// said of it.
var tightenings = []tightness{
	{scale: 1}, {scale: 0.85}, {scale: 0.7}, {scale: 0.6},
	{scale: 0.85, apart: true}, {scale: 0.7, apart: true}, {scale: 0.6, apart: true},
}

// firstPage is the first fit with which the first page holds all that belongs on
// it; tightenings[0] when there are too many stations for any.
func (s Sheet) firstPage(c *content) tightness {
	for _, f := range tightenings {
		p := s.newPaper(c, 0)
		p.tight = f
		p.front(c)
		if p.doc.PageNo() == 1 {
			return f
		}
	}
	return tightenings[0]
}

// bed draws the map: corners in two rows, the middle between them, further
// stations in rows below.
func (p *paper) bed(v bedView) {
	p.heading("The bed, seen from the front", 60)
	if len(v.Bed) > 0 {
		p.standard(v.Bed)
	}
	columns := p.furtherColumns(len(v.Others))
	for i := 0; i < len(v.Others); i += columns {
		p.row(v.Others[i:min(i+columns, len(v.Others))], columns)
	}
	p.keys(v.Keys)
}

// standard draws the bed's frame with the five standard places, as far as they
// are in use.
func (p *paper) standard(list []spotView) {
	column := (p.width() - 2*bedPad) / 3
	rowTall, middleTall := 0.0, 0.0
	for _, s := range list {
		tall := p.station(s, frame{wide: column}, bedMini*p.tight.scale, false)
		if s.Row == 1 {
			middleTall = tall
			continue
		}
		rowTall = max(rowTall, tall)
	}
	inner := max(2*rowTall+cellGap, middleTall)
	edge := smallSize * leading
	tall := inner + 2*bedPad + 2*edge
	p.need(tall)
	p.centred("rear", p.y)
	top := p.y + edge
	p.pen(paleInk, 0.6)
	p.doc.Rect(margin, top, p.width(), inner+2*bedPad, "D")
	for _, s := range list {
		y := top + bedPad
		switch s.Row {
		case 1:
			y += (inner - middleTall) / 2
		case 2:
			y += inner - rowTall
		}
		p.station(s, frame{margin + bedPad + float64(s.Column)*column, y, column}, bedMini*p.tight.scale, true)
	}
	p.centred("front, where one stands", top+inner+2*bedPad)
	p.y += tall + 1
}

// centred is a small line in the middle of the page.
func (p *paper) centred(words string, y float64) {
	x := margin + (p.width()-typeface.Regular().Width(words, smallSize))/2
	p.put(wrapped(text{words: words, size: smallSize, ink: muted, x: x}, p.width()), y)
}

// furtherColumns is how many of n further stations stand in a row. Where the
// drawings are smaller, one more leaves the words on their lines, and a few have
// room for the words beside the drawing.
func (p *paper) furtherColumns(n int) int {
	switch {
	case p.tight.scale == 1:
		return furtherCols
	case n <= besideCols:
		return besideCols
	}
	return furtherCols + 1
}

// row draws further stations side by side.
func (p *paper) row(list []spotView, columns int) {
	column := p.width() / float64(columns)
	tall := 0.0
	for _, s := range list {
		tall = max(tall, p.station(s, frame{wide: column}, furtherMini*p.tight.scale, false))
	}
	p.need(tall)
	for i, s := range list {
		p.station(s, frame{margin + float64(i)*column, p.y, column}, furtherMini*p.tight.scale, true)
	}
	p.y += tall + cellGap
}

// station is a miniature with its words; without ink it is only measured. It
// gives its height. In a frame wide enough the words stand beside the drawing,
// else below it.
func (p *paper) station(s spotView, f frame, mini float64, inked bool) float64 {
	_, _, wide, high := s.Drawing.bounds()
	tall := mini * high / wide
	beside := f.wide-mini > besideRoom
	x, y, room := f.x+1, f.y+tall+0.5, f.wide-2
	at := frame{f.x + (f.wide-mini)/2, f.y, mini}
	if beside {
		x, y, room, at.x = f.x+mini+2, f.y+0.12*tall, f.wide-mini-3, f.x
	}
	if inked {
		p.draw(s.Drawing, at)
	}
	if p.tight.apart {
		s.Notes = nil
	}
	for _, line := range s.lines() {
		indent := line.indent()
		for _, words := range wrapped(line.text, room-indent).lines {
			left := x
			if !beside {
				left += (room - indent - typeface.Of(line.bold).Width(words, line.size)) / 2
			}
			if inked {
				p.stationLine(line, words, left, y)
			}
			y += line.size * leading
			line.badge = nil // before the first line only
		}
	}
	return max(y-f.y, tall)
}

// stationLine draws one line, its badge before it.
func (p *paper) stationLine(l stationLine, words string, x, y float64) {
	if l.badge != nil {
		p.draw(*l.badge, frame{x, y + 0.1*l.size, l.size * 1.05})
	}
	l.text.x = x + l.indent()
	p.put(block{[]string{words}, l.text}, y)
}

// indent is the room for the badge.
func (l stationLine) indent() float64 {
	if l.badge == nil {
		return 0
	}
	return l.size * 1.3
}

// stationLine is one line of words at a miniature, badge before it.
type stationLine struct {
	text
	badge *drawing
}

// lines are the words at the miniature.
func (s spotView) lines() []stationLine {
	plain := text{size: smallSize, ink: ink}
	name := text{words: s.Station, size: tableSize, bold: true, ink: ink}
	out := []stationLine{{text: name}}
	add := func(words string, badge *drawing, bold bool) {
		t := plain
		t.words, t.bold = words, bold
		out = append(out, stationLine{t, badge})
	}
	for _, words := range s.Lines {
		add(words, nil, false)
	}
	add(s.Words, &s.Badge, false)
	if s.Before != "" {
		add(s.Before, nil, false)
	}
	for _, words := range s.Notes {
		add(words, nil, true)
	}
	return out
}

// keys is the legend, three to a row.
func (p *paper) keys(list []key) {
	const columns, sign = 3, 3.2
	column := p.width() / columns
	for i := 0; i < len(list); i += columns {
		tall := 0.0
		some := list[i:min(i+columns, len(list))]
		blocks := make([]block, len(some))
		for j, k := range some {
			blocks[j] = wrapped(text{words: k.Words, size: smallSize, ink: ink, x: margin + float64(j)*column + sign + 1.2}, column-sign-4)
			tall = max(tall, blocks[j].tall())
		}
		p.need(tall)
		for j, k := range some {
			p.draw(k.Drawing, frame{margin + float64(j)*column, p.y, sign})
			p.put(blocks[j], p.y)
		}
		p.y += tall
	}
}
