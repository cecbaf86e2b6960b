package sheet

import "burngauge.dev/burngauge/pkg/printing"

// What is printed on every kind of sheet.
type (
	size = printing.Size
	grey = printing.Grey
	text = printing.Text
)

// The sheet is drawn in black, so that any printer prints it. What belongs to
// the target is fully black; the rest is lighter, so that nothing else on the
// paper looks like a ring.
const (
	black  grey = 0
	dark   grey = 60
	middle grey = 120
	light  grey = 170
)

// shape is one thing on the page: *circle, *line, *bar or *text.
type shape any

// circle is an outline; width is the line's, r the radius to its middle.
type circle struct {
	x, y, r, width float64
	ink            grey
	dash           []float64 // nil: unbroken
}

// line is a straight stroke with butt ends.
type line struct {
	x1, y1, x2, y2, width float64
	ink                   grey
}

// bar is a filled upright rectangle.
type bar struct {
	x, y, w, h float64
	ink        grey
}
