package sheet

import (
	"math"

	"burngauge.dev/burngauge/pkg/machine"
)

// The mount's drawing, mm.
const (
	drawnWide  = 52.0
	drawnTall  = 49.0
	plateEdge  = 11.0 // from the outer screws to the plate's edge: room for an arrow
	headRadius = 3.0  // of a drawn screw
	arrowGap   = 1.7  // from the screw to its arrow
)

// draw is the mount with its upper left corner at (left, top).
func (m mount) draw(left, top float64) []shape {
	l, r, b, t := m.bounds()
	wide, tall := drawnWide-2*plateEdge, drawnTall-2*plateEdge-4 // 4 for the word above
	scale := min(wide/max(r-l, least), tall/max(t-b, least))
	midX, midY := left+drawnWide/2, top+4+(drawnTall-4)/2
	at := func(x, y float64) point { return point{midX + (x-(l+r)/2)*scale, midY - (y-(b+t)/2)*scale} }
	upper, lower := at(l, t), at(r, b)
	out := []shape{
		outline(0.4, box(upper.x-plateEdge, upper.y-plateEdge, lower.x+plateEdge, lower.y+plateEdge)...),
		centred("top", midX, upper.y-plateEdge-2, 2.6, dark),
	}
	c := at(0, 0)
	room := plateEdge - 1 + min(c.x-upper.x, lower.x-c.x, c.y-upper.y, lower.y-c.y)
	out = append(out, glass(c, min(m.ClearMM/2*scale, room))...)
	size := min(headRadius, 0.3*m.nearest()*scale)
	for i, s := range m.Screws {
		p := at(s.RightMM, s.UpMM)
		out = append(out, m.screw(i, p, size)...)
	}
	return out
}

// glass is the mirror behind the plate: a broken circle, no larger than the
// plate, and its middle.
func glass(c point, radius float64) []shape {
	return []shape{
		&path{points: round60(c.x, c.y, radius), closed: true, width: 0.2, ink: mid, dash: []float64{1.2, 0.8}},
		line(0.2, mid, point{c.x - 1.5, c.y}, point{c.x + 1.5, c.y}), line(0.2, mid, point{c.x, c.y - 1.5}, point{c.x, c.y + 1.5}),
	}
}

// screw is a hollow circle when it is to be left alone; when it is to be turned a
// black hexagon with an arrow round it and the fraction below.
func (m mount) screw(i int, p point, size float64) []shape {
	name, letter := machine.ScrewNames[i], size*1.25
	if m.Turns[i] == 0 {
		return []shape{outline(0.25, round60(p.x, p.y, size)...), centred(name, p.x, p.y, letter, black)}
	}
	out := []shape{solid(black, hexagon(p.x, p.y, size*1.1)...), centred(name, p.x, p.y, letter, paper)}
	out = append(out, arrow(p, size+arrowGap, m.Turns[i] > 0)...)
	below := p.y + size + arrowGap + 1.2
	out = append(out, centred(short(m.Turns[i]), p.x, below, 2.8, black))
	if m.Back[i] != 0 {
		out = append(out, centred("back "+short(m.Back[i]), p.x, below+2.8, 2.3, black))
	}
	return out
}

// arrow runs over the top of a screw, open below where the fraction stands.
func arrow(p point, radius float64, clockwise bool) []shape {
	const open, length, half = 125.0, 2.4, 1.3 // degrees either side of the top; the head's size, mm
	sign := 1.0
	if !clockwise {
		sign = -1
	}
	tip := arc(p.x, p.y, radius, sign*open, sign*open, 1)[0]
	sin, cos := math.Sincos(sign * open * math.Pi / 180)
	along := point{sign * cos, sign * sin} // the way the arc goes on at its end
	back := point{tip.x - length*along.x, tip.y - length*along.y}
	head := solid(black, tip, point{back.x - half*along.y, back.y + half*along.x}, point{back.x + half*along.y, back.y - half*along.x})
	start := -sign * open
	end := sign * (open - length/radius*180/math.Pi*0.8) // the line ends inside the head
	return []shape{line(0.6, black, arc(p.x, p.y, radius, start, end, 40)...), head}
}
