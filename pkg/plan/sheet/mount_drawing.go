package sheet

import (
	"math"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/machine"
)

// The mount's drawing, mm.
const (
	drawnWide  = 52.0
	drawnTall  = 49.0
	topTall    = 4.0  // for the word above the plate
	plateEdge  = 11.0 // from the outer screws to the plate's edge: room for an arrow
	headRadius = 3.0  // of a drawn screw
	arrowGap   = 1.7  // from the screw to its arrow
)

// draw is the mount with its upper left corner at (left, top). The screws' places are
// scaled so that they fit both ways:
//
//	scale = min(room's width / screws' width, room's height / screws' height)
//
// and turned over in height, since up is up on the mount and y is down on paper.
func (m mount) draw(left, top float64) []drawing.Shape {
	l, r, b, t := m.bounds()
	wide, tall := drawnWide-2*plateEdge, drawnTall-2*plateEdge-topTall
	scale := min(wide/max(r-l, least), tall/max(t-b, least))
	midX, midY := left+drawnWide/2, top+topTall+(drawnTall-topTall)/2
	at := func(x, y float64) drawing.Point {
		return drawing.At(midX+(x-(l+r)/2)*scale, midY-(y-(b+t)/2)*scale)
	}
	upper, lower := at(l, t), at(r, b)
	out := []drawing.Shape{
		drawing.Box(drawing.At(upper.X-plateEdge, upper.Y-plateEdge), drawing.At(lower.X+plateEdge, lower.Y+plateEdge), outlined(0.4)),
		drawing.Centred(drawing.Font{Size: 2.6, Bold: true, Ink: dark}, "top", midX, upper.Y-plateEdge-2),
	}
	c := at(0, 0)
	room := plateEdge - 1 + min(c.X-upper.X, lower.X-c.X, c.Y-upper.Y, lower.Y-c.Y)
	out = append(out, glass(c, min(m.ClearMM/2*scale, room))...)
	size := min(headRadius, 0.3*m.nearest()*scale)
	for i, s := range m.Screws {
		out = append(out, m.screw(i, at(s.RightMM, s.UpMM), size)...)
	}
	return out
}

// outlined is a black line around a white inside.
func outlined(width float64) drawing.Style {
	style := drawing.Stroked(drawing.Black, width)
	style.Fill = &drawing.White
	return style
}

// glass is the mirror behind the plate: a broken circle, no larger than the
// plate, and its middle.
func glass(c drawing.Point, radius float64) []drawing.Shape {
	style := drawing.Stroked(mid, 0.2)
	return []drawing.Shape{
		drawing.Circle(c.X, c.Y, radius, drawing.Stroked(mid, 0.2, 1.2, 0.8)),
		drawing.Line(style, drawing.At(c.X-1.5, c.Y), drawing.At(c.X+1.5, c.Y)),
		drawing.Line(style, drawing.At(c.X, c.Y-1.5), drawing.At(c.X, c.Y+1.5)),
	}
}

// screw is a hollow circle when it is to be left alone; when it is to be turned a
// black hexagon with an arrow round it and the fraction below.
func (m mount) screw(i int, p drawing.Point, size float64) []drawing.Shape {
	name := machine.ScrewNames[i]
	letter := func(ink drawing.Colour) drawing.Shape {
		return drawing.Centred(drawing.Font{Size: size * 1.25, Bold: true, Ink: ink}, name, p.X, p.Y)
	}
	if m.Turns[i] == 0 {
		return []drawing.Shape{drawing.Circle(p.X, p.Y, size, outlined(0.25)), letter(drawing.Black)}
	}
	hexagon := drawing.Polygon(drawing.Filled(drawing.Black), drawing.Regular(p, size*1.1, 6)...)
	out := append([]drawing.Shape{hexagon, letter(drawing.White)}, arrow(p, size+arrowGap, m.Turns[i] > 0)...)
	below := p.Y + size + arrowGap + 1.2
	out = append(out, drawing.Centred(drawing.Font{Size: 2.8, Bold: true, Ink: drawing.Black}, short(m.Turns[i]), p.X, below))
	if m.Back[i] != 0 {
		out = append(out, drawing.Centred(drawing.Font{Size: 2.3, Bold: true, Ink: drawing.Black}, "back "+short(m.Back[i]), p.X, below+2.8))
	}
	return out
}

// arrow runs over the top of a screw, open below where the fraction stands. At the
// angle a from the top, clockwise, the arc is at r (sin a, -cos a) and goes on along
// (cos a, sin a): there the head points.
func arrow(p drawing.Point, radius float64, clockwise bool) []drawing.Shape {
	const open, length, half = 125.0, 2.4, 1.3 // degrees either side of the top; the head's size, mm
	sign := 1.0
	if !clockwise {
		sign = -1
	}
	tip := drawing.Arc(p, radius, drawing.Sweep{From: sign * open, To: sign * open, Pieces: 1})[0]
	sin, cos := math.Sincos(sign * open * math.Pi / 180)
	along := drawing.At(sign*cos, sign*sin)
	back := drawing.At(tip.X-length*along.X, tip.Y-length*along.Y)
	head := drawing.Polygon(drawing.Filled(drawing.Black), tip,
		drawing.At(back.X-half*along.Y, back.Y+half*along.X), drawing.At(back.X+half*along.Y, back.Y-half*along.X))
	start := -sign * open
	end := sign * (open - length/radius*180/math.Pi*0.8) // the line ends inside the head
	return []drawing.Shape{drawing.Line(drawing.Stroked(drawing.Black, 0.6), drawing.Arc(p, radius, drawing.Sweep{From: start, To: end, Pieces: 40})...), head}
}
