package evidence

import (
	"slices"

	"burngauge.dev/burngauge/pkg/drawing"
)

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
func firstPage(c *wording, paper drawing.Size) tightness {
	for _, t := range tightenings {
		l := layout{drawing.NewFlow(paper), t}
		l.front(c)
		if l.Pages() == 1 {
			return t
		}
	}
	return tightenings[0]
}

// bed draws the map: corners in two rows, the middle between them, further
// stations in rows below.
func (l layout) bed(v bedView) {
	l.Heading(headFont, "The bed, seen from the front", 60)
	if len(v.Bed) > 0 {
		l.standard(v.Bed)
	}
	columns := l.furtherColumns(len(v.Others))
	for some := range slices.Chunk(v.Others, columns) {
		l.further(some, columns)
	}
	l.keys(v.Keys)
}

// standard draws the bed's frame with the five standard places, as far as they
// are in use.
func (l layout) standard(list []spotView) {
	column := (l.Width() - 2*bedPad) / 3
	mini := bedMini * l.tight.scale
	cornerTall, middleTall := 0.0, 0.0
	for _, s := range list {
		_, tall := l.station(s, corner{wide: column}, mini)
		if s.Row == 1 {
			middleTall = tall
			continue
		}
		cornerTall = max(cornerTall, tall)
	}
	inner := max(2*cornerTall+cellGap, middleTall)
	edge := smallFont.Line()
	tall := inner + 2*bedPad + 2*edge
	l.Need(tall)
	l.centred("rear", l.Y)
	top := l.Y + edge
	l.Put(drawing.Box(drawing.At(margin, top), drawing.At(margin+l.Width(), top+inner+2*bedPad), drawing.Stroked(paleInk, 0.6)))
	for _, s := range list {
		y := top + bedPad
		switch s.Row {
		case 1:
			y += (inner - middleTall) / 2
		case 2:
			y += inner - cornerTall
		}
		shapes, _ := l.station(s, corner{margin + bedPad + float64(s.Column)*column, y, column}, mini)
		l.Put(shapes...)
	}
	l.centred("front, where one stands", top+inner+2*bedPad)
	l.Y += tall + 1
}

// centred is a small line in the middle of the page.
func (l layout) centred(words string, y float64) {
	x := margin + (l.Width()-quietFont.Width(words))/2
	l.Put(quietFont.Block(words, l.Width()).At(x, y)...)
}

// furtherColumns is how many of n further stations stand in a row. Where the
// drawings are smaller, one more leaves the words on their lines, and a few have
// room for the words beside the drawing.
func (l layout) furtherColumns(n int) int {
	switch {
	case l.tight.scale == 1:
		return furtherCols
	case n <= besideCols:
		return besideCols
	}
	return furtherCols + 1
}

// further draws further stations side by side.
func (l layout) further(list []spotView, columns int) {
	column := l.Width() / float64(columns)
	mini := furtherMini * l.tight.scale
	tall := 0.0
	for _, s := range list {
		_, needed := l.station(s, corner{wide: column}, mini)
		tall = max(tall, needed)
	}
	l.Need(tall)
	for i, s := range list {
		shapes, _ := l.station(s, corner{margin + float64(i)*column, l.Y, column}, mini)
		l.Put(shapes...)
	}
	l.Y += tall + cellGap
}

// corner is where a station goes: its upper left corner and width, mm.
type corner struct{ x, y, wide float64 }

// station is a miniature, mini mm wide, with its words, and the height of both. In a
// place wide enough the words stand beside the drawing, else below it, each line in
// the middle.
func (l layout) station(s spotView, at corner, mini float64) (shapes []drawing.Shape, tall float64) {
	drawn := s.Drawing.TallAt(mini)
	beside := at.wide-mini > besideRoom
	left, y, room := at.x+1, at.y+drawn+0.5, at.wide-2
	x := at.x + (at.wide-mini)/2
	if beside {
		left, y, room, x = at.x+mini+2, at.y+0.12*drawn, at.wide-mini-3, at.x
	}
	shapes = s.Drawing.At(x, at.y, mini)
	if l.tight.apart {
		s.Notes = nil
	}
	for _, p := range s.paragraphs() {
		indent := p.indent()
		for i, words := range p.Block(p.words, room-indent).Lines {
			x := left
			if !beside {
				x += (room - indent - p.Width(words)) / 2
			}
			if p.sign != nil && i == 0 {
				shapes = append(shapes, p.sign.At(x, y+0.1*p.Size, 1.05*p.Size)...)
			}
			shapes = append(shapes, drawing.Block{Font: p.Font, Lines: []string{words}}.At(x+indent, y)...)
			y += p.Line()
		}
	}
	return shapes, max(y-at.y, drawn)
}

// stationWords is one paragraph at a miniature, with the sign before it.
type stationWords struct {
	drawing.Font
	words string
	sign  *drawing.Figure
}

// indent is the room for the sign.
func (p stationWords) indent() float64 {
	if p.sign == nil {
		return 0
	}
	return p.SignRoom()
}

// paragraphs are the words at the miniature.
func (s spotView) paragraphs() []stationWords {
	out := []stationWords{{Font: bold(tableFont), words: s.Station}}
	for _, words := range s.Lines {
		out = append(out, stationWords{Font: smallFont, words: words})
	}
	out = append(out, stationWords{smallFont, s.Words, &s.Badge})
	if s.Before != "" {
		out = append(out, stationWords{Font: smallFont, words: s.Before})
	}
	for _, words := range s.Notes {
		out = append(out, stationWords{Font: bold(smallFont), words: words})
	}
	return out
}

// keys is the legend, three to a row.
func (l layout) keys(list []key) {
	const columns, side = 3, 3.2
	column := l.Width() / columns
	for some := range slices.Chunk(list, columns) {
		tall := 0.0
		blocks := make([]drawing.Block, len(some))
		for i, k := range some {
			blocks[i] = smallFont.Block(k.Words, column-side-4)
			tall = max(tall, blocks[i].Tall())
		}
		l.Need(tall)
		for i, k := range some {
			x := margin + float64(i)*column
			l.Put(k.Drawing.At(x, l.Y, side)...)
			l.Put(blocks[i].At(x+side+1.2, l.Y)...)
		}
		l.Y += tall
	}
}
