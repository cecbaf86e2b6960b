package drawing

import "fmt"

// Colour is red, green and blue, 0 to 255 each, as sRGB has them.
type Colour struct{ R, G, B uint8 }

// Grey is a level of black ink, which any printer prints: 0 black, 255 the paper.
func Grey(level uint8) Colour { return Colour{level, level, level} }

// Hex is the colour as CSS and SVG write it.
func (c Colour) Hex() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// Black and White are ink and paper.
var (
	Black = Grey(0)
	White = Grey(255)
)

// Greys of what frames a sheet: the foot's words and thin rules.
var (
	footInk = Grey(90)
	ruleInk = Grey(195)
)
