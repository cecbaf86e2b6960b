package evidence

import (
	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/report/phrase"
)

// The sheet's colours; the names say what each is for. Each also differs in
// lightness, line or form from the others, for paper without colour. Text has a contrast
// of at least 4.5 to 1 to the paper, what is drawn 3 to 1, as WCAG 2.1 asks.
var (
	ink     = drawing.Grey(26)                       // text, what must be seen
	muted   = drawing.Grey(90)                       // text beside it
	ringInk = drawing.Colour{R: 120, G: 124, B: 128} // the target's own lines
	paleInk = drawing.Colour{R: 200, G: 202, B: 204} // frames
	scorch  = drawing.Colour{R: 222, G: 196, B: 166} // inside the burn
	burnInk = drawing.Colour{R: 122, G: 62, B: 10}   // the burn's outline
	limInk  = drawing.Colour{R: 0, G: 60, B: 130}    // the limit
	redDot  = drawing.Colour{R: 178, G: 0, B: 70}    // the pointer
	good    = drawing.Colour{R: 20, G: 96, B: 48}
	bad     = drawing.Colour{R: 160, G: 22, B: 22}
	unsure  = drawing.Colour{R: 110, G: 76, B: 0}
)

// sign is a state as a form and a colour; any state without a number is hollow.
func sign(state string) drawing.Figure {
	switch state {
	case phrase.Inside:
		return drawing.Tick.Figure(good)
	case phrase.Outside:
		return drawing.Cross.Figure(bad)
	case phrase.Borderline:
		return drawing.Bar.Figure(unsure)
	}
	return drawing.Hollow.Figure(muted)
}
