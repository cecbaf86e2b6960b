package sheet

import "burngauge.dev/burngauge/pkg/typeface"

// size is a page's, in mm.
type size struct{ w, h float64 }

// grey is a level of black ink: 0 black, 255 paper.
type grey uint8

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

// text is one line; (x, y) is its left end on the baseline.
type text struct {
	x, y   float64
	height float64 // font size (em) in mm
	bold   bool
	ink    grey
	words  string
}

// width of the text as it is drawn, mm.
func (t *text) width() float64 { return typeface.Of(t.bold).Width(t.words, t.height) }
