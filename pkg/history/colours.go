package history

import "burngauge.dev/burngauge/pkg/drawing"

// The chart's colours, for white paper: words and lines that carry a number have a
// contrast of at least 4.5 to 1, as WCAG 2.1 asks of text. No series needs its colour:
// each has a mark and a dash of its own.
var (
	ink      = drawing.Grey(26)                       // words, the distance
	muted    = drawing.Grey(90)                       // axes
	pale     = drawing.Colour{R: 200, G: 202, B: 204} // the line at 0
	rightInk = drawing.Colour{R: 0, G: 60, B: 130}
	upInk    = drawing.Colour{R: 122, G: 62, B: 10}
	limitInk = drawing.Colour{R: 160, G: 22, B: 22}
)
