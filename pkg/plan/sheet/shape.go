package sheet

import (
	"math"

	"burngauge.dev/burngauge/pkg/printing"
)

// What is printed on every kind of sheet.
type (
	grey = printing.Grey
	text = printing.Text
)

const (
	black grey = 0
	dark  grey = 50
	mid   grey = 110
	pale  grey = 190
	paper grey = 255
)

// point is x to the right, y down, mm.
type point struct{ x, y float64 }

// shape is one thing on a page: *path or *text.
type shape any

// path is a line through points: stroked when width > 0, filled when fill is set.
type path struct {
	points []point
	closed bool
	width  float64
	ink    grey
	fill   *grey
	dash   []float64 // nil: unbroken
}

// centred is text whose middle is at (x, y).
func centred(words string, x, y, size float64, ink grey) *text {
	t := &text{Size: size, Bold: true, Ink: ink, Words: words}
	t.X, t.Y = x-t.Width()/2, y+printing.CapsMid*size
	return t
}

func line(width float64, ink grey, points ...point) *path {
	return &path{points: points, width: width, ink: ink}
}

// solid is a filled outline.
func solid(fill grey, points ...point) *path { return &path{points: points, closed: true, fill: &fill} }

// outline is a closed line, white inside.
func outline(width float64, points ...point) *path {
	inside := paper
	return &path{points: points, closed: true, width: width, ink: black, fill: &inside}
}

// arc is points along a circle from one angle to another, in degrees clockwise
// from the top.
func arc(x, y, r, from, to float64, pieces int) []point {
	out := make([]point, pieces+1)
	for i := range out {
		sin, cos := math.Sincos((from + (to-from)*float64(i)/float64(pieces)) * math.Pi / 180)
		out[i] = point{x + r*sin, y - r*cos}
	}
	return out
}

// round60 is a circle of 60 corners: at the 10 mm of a mirror 0.014 mm short of it.
func round60(x, y, r float64) []point { return arc(x, y, r, 0, 360, 60)[:60] }

// hexagon stands on a corner.
func hexagon(x, y, r float64) []point { return arc(x, y, r, 0, 360, 6)[:6] }

// box is an upright rectangle.
func box(left, top, right, bottom float64) []point {
	return []point{{left, top}, {right, top}, {right, bottom}, {left, bottom}}
}

// badge is a state as a form within size mm whose upper left corner is (x, y): a
// disc with a tick is inside, a square with a cross outside, a diamond with a bar
// anything that is not settled.
func badge(state string, x, y, size float64) []shape {
	r := size / 2
	x, y = x+r, y+r
	mark := func(points ...point) *path {
		for i := range points {
			points[i] = point{x + r*points[i].x, y + r*points[i].y}
		}
		return line(0.16*size, paper, points...)
	}
	switch state {
	case "inside":
		return []shape{solid(dark, round60(x, y, 0.95*r)...), mark(point{-0.5, 0}, point{-0.1, 0.4}, point{0.5, -0.4})}
	case "outside":
		return []shape{solid(black, box(x-0.85*r, y-0.85*r, x+0.85*r, y+0.85*r)...),
			mark(point{-0.45, -0.45}, point{0.45, 0.45}), mark(point{-0.45, 0.45}, point{0.45, -0.45})}
	}
	return []shape{solid(mid, arc(x, y, r, 0, 360, 4)[:4]...), mark(point{-0.5, 0}, point{0.5, 0})}
}
