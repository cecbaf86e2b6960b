package evidence

import "fmt"

// colour is red, green, blue; the names say what it is for. Each also differs
// in lightness, line or form from the others, for paper without colour.
type colour struct{ R, G, B uint8 }

// hex is the colour as CSS and SVG write it.
func (c colour) hex() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

var (
	ink     = colour{26, 26, 26}    // text, what must be seen
	muted   = colour{90, 90, 90}    // text beside it
	ringInk = colour{120, 124, 128} // the target's own lines
	paleInk = colour{200, 202, 204} // frames
	white   = colour{255, 255, 255}
	scorch  = colour{222, 196, 166} // inside the burn
	burnInk = colour{122, 62, 10}   // the burn's outline
	limInk  = colour{0, 60, 130}    // the limit
	redDot  = colour{178, 0, 70}    // the pointer
	good    = colour{20, 96, 48}
	bad     = colour{160, 22, 22}
	unsure  = colour{110, 76, 0}
)

// look is how a shape is drawn. A width of 0 is no stroke.
type look struct {
	Stroke colour
	Width  float64
	Dash   []float64 // nil: unbroken
	Fill   *colour   // nil: hollow
}

// shape is an ellipse when RX > 0, else a line through Points, closed when it
// is filled.
type shape struct {
	look
	X, Y, RX, RY float64
	Turn         float64 // degrees, clockwise as seen with y down
	Points       [][2]float64
}

// drawing is shapes in a frame, x right, y down: from -Reach to Reach sideways
// and from -Up to Reach in height.
type drawing struct {
	Reach  float64
	Up     float64 // 0 is Reach
	Shapes []shape
	Title  string // what is seen, in words
}

// bounds are the frame's left and top edge, width and height.
func (d drawing) bounds() (left, top, wide, tall float64) {
	up := d.Up
	if up == 0 {
		up = d.Reach
	}
	return -d.Reach, -up, 2 * d.Reach, up + d.Reach
}

func circle(x, y, r float64, l look) shape { return shape{look: l, X: x, Y: y, RX: r, RY: r} }

func polyline(l look, points ...[2]float64) shape { return shape{look: l, Points: points} }

// box is an upright rectangle.
func box(left, top, right, bottom float64, l look) shape {
	return polyline(l, [2]float64{left, top}, [2]float64{right, top}, [2]float64{right, bottom}, [2]float64{left, bottom}, [2]float64{left, top})
}

// stateColours is the ink of each state; the others are muted.
var stateColours = map[string]colour{inside: good, outside: bad, borderline: unsure}

func stateColour(state string) colour {
	if c, ok := stateColours[state]; ok {
		return c
	}
	return muted
}

// badge is a state as a form, so that it is told without colour too: a disc with
// a tick is inside, a square with a cross outside, a diamond with a bar
// borderline, and a hollow broken circle is no number.
func badge(state string) drawing {
	d := drawing{Reach: 1.1, Title: ""}
	c := stateColour(state)
	solid := look{Stroke: c, Width: 0.15, Fill: &c}
	line := look{Stroke: white, Width: 0.3}
	switch state {
	case inside:
		d.Shapes = []shape{circle(0, 0, 0.95, solid), polyline(line, [2]float64{-0.5, 0}, [2]float64{-0.1, 0.4}, [2]float64{0.5, -0.4})}
	case outside:
		d.Shapes = []shape{box(-0.85, -0.85, 0.85, 0.85, solid),
			polyline(line, [2]float64{-0.45, -0.45}, [2]float64{0.45, 0.45}), polyline(line, [2]float64{-0.45, 0.45}, [2]float64{0.45, -0.45})}
	case borderline:
		d.Shapes = []shape{polyline(solid, [2]float64{0, -1}, [2]float64{1, 0}, [2]float64{0, 1}, [2]float64{-1, 0}, [2]float64{0, -1}),
			polyline(line, [2]float64{-0.5, 0}, [2]float64{0.5, 0})}
	default:
		d.Shapes = []shape{circle(0, 0, 0.85, look{Stroke: c, Width: 0.25, Dash: []float64{0.45, 0.3}})}
	}
	return d
}
