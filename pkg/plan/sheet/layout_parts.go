package sheet

import (
	"strings"

	"burngauge.dev/burngauge/pkg/printing"
)

// tick is a box to tick with a pencil.
func (l *layout) tick(x float64) { l.put(outline(0.3, box(x, l.y+0.8, x+3, l.y+3.8)...)) }

// step is one mirror, kept on one page: a hand that turns does not leaf through pages.
func (l *layout) step(st step) {
	const above = 3.0
	trial := &layout{wide: l.wide, pages: [][]shape{nil}} // endless
	trial.mirror(st)
	l.need(above + trial.y)
	l.y += above
	l.mirror(st)
}

// mirror draws a step: the mount at the left, what to turn at its right.
func (l *layout) mirror(st step) {
	const gap, tick = 5.0, 4.2
	x := margin + drawnWide + gap
	room := l.wide - margin - x
	head, big, small := font{headSize, true}, font{turnSize, true}, font{size: bodySize}
	top, page := l.y, len(l.pages)
	l.put(st.Mount.draw(margin, top)...)
	l.flow(head, st.Title, x, room)
	l.y += 1
	for _, t := range st.Tasks {
		l.tick(x)
		l.flow(big, "Screw "+clean(t.Screw)+": "+Fraction(t.Turns)+" "+way(t.Turns), x+tick, room-tick)
		l.flow(small, strings.TrimPrefix(seenFrom, ", ")+degrees(t.Turns), x+tick, room-tick)
		if t.Back != 0 {
			l.y += 0.6
			l.tick(x)
			l.flow(big, "then "+Fraction(t.Back)+" back "+way(t.Back), x+tick, room-tick)
			l.flow(small, "that takes the play out"+degrees(t.Back), x+tick, room-tick)
		}
		l.y += 1.2
	}
	l.y += 0.5
	l.flow(font{size: smallSize}, st.View+" Black hexagon: turn it along the arrow. Circle: leave it alone. Broken circle: the mirror.", x, room)
	if len(l.pages) == page { // words from elsewhere may be longer than a page
		l.y = max(l.y, top+drawnTall)
	}
}

// shares are the widths of the table's columns.
var shares = []float64{4, 3, 3, 4, 4}

// table draws the predictions; its heading is repeated on every page.
func (l *layout) table(t table) {
	if len(t.Rows) == 0 {
		return
	}
	l.heading(t.Title, 20)
	l.tableHead(t)
	for _, r := range t.Rows {
		if l.need(l.rowTall(r)) {
			l.tableHead(t)
		}
		l.row(r.Cells, r.State, false)
		l.put(line(0.15, pale, point{margin, l.y + 0.3}, point{margin + l.width(), l.y + 0.3}))
		l.y += 0.7
	}
	l.y += 1
	for _, note := range t.Notes {
		l.flow(font{size: smallSize}, note, margin, l.width())
	}
}

func (l *layout) tableHead(t table) {
	l.row(t.Heads, "", true)
	l.put(line(0.25, black, point{margin, l.y + 0.2}, point{margin + l.width(), l.y + 0.2}))
	l.y += 0.8
}

// cellFont is how a cell looks.
func cellFont(bold bool) font {
	if bold {
		return font{smallSize * 1.1, true}
	}
	return font{size: bodySize}
}

// place is a column's left edge and the width of its words.
func (l *layout) place(i int) (x, room float64) {
	total := 0.0
	for _, s := range shares {
		total += s
	}
	x = margin
	for _, s := range shares[:i] {
		x += s / total * l.width()
	}
	return x, shares[i]/total*l.width() - 2
}

// signWide is the room that a state's form takes, mm.
const signWide = bodySize * 1.4

func (l *layout) rowTall(r row) float64 {
	tall := 0.0
	for i, c := range r.Cells {
		_, room := l.place(i)
		tall = max(tall, cellFont(false).tall(c, room-signWide))
	}
	return tall + 0.7
}

// row draws the cells beside each other; a state has its form before the last one.
func (l *layout) row(cells []string, state string, bold bool) {
	top, bottom := l.y, l.y
	f := cellFont(bold)
	for i, c := range cells {
		x, room := l.place(i)
		if state != "" && i == len(cells)-1 {
			l.put(badge(state, x, top+0.15*bodySize, bodySize)...)
			x, room = x+signWide, room-signWide
		}
		for j, words := range f.lines(c, room) {
			l.put(&text{X: x, Y: printing.Baseline(top, j, f.size), Size: f.size, Bold: bold, Ink: black, Words: words})
			bottom = max(bottom, top+float64(j+1)*f.size*leading)
		}
	}
	l.y = bottom
}

// findings are what the screws cannot cure, each with its evidence.
func (l *layout) findings(list []finding) {
	if len(list) == 0 {
		return
	}
	l.heading("Findings", 3*bodySize*leading)
	for _, f := range list {
		l.item(f.Text+" ("+f.Code+")", true)
		if f.Evidence != "" {
			l.y -= 0.5
			l.flow(font{size: bodySize}, "Evidence: "+f.Evidence, margin+indent, l.width()-indent)
			l.y += 1
		}
	}
}
