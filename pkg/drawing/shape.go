package drawing

import "math"

// Shape is one thing on a page: an Ellipse, a Rectangle, a Path, a Text or a Picture.
type Shape interface {
	// placed is the shape in another frame: every length times scale, the origin
	// at (x, y).
	placed(scale, x, y float64) Shape
}

// Point is x to the right, y down.
type Point struct{ X, Y float64 }

// At is the point (x, y).
func At(x, y float64) Point { return Point{x, y} }

// Style is how an Ellipse, a Rectangle or a Path is drawn: filled first, then stroked.
type Style struct {
	Stroke Colour
	Width  float64   // of the stroke, half of it on either side; 0: no stroke
	Dash   []float64 // lengths of strokes and gaps in turn; nil: unbroken
	Fill   *Colour   // nil: hollow
}

// Stroked is a line of a colour and width, dashed when there are lengths for it.
func Stroked(c Colour, width float64, dash ...float64) Style {
	return Style{Stroke: c, Width: width, Dash: dash}
}

// Filled is an area without an outline.
func Filled(c Colour) Style { return Style{Fill: &c} }

func (s Style) placed(scale float64) Style {
	s.Width *= scale
	dash := make([]float64, len(s.Dash))
	for i, length := range s.Dash {
		dash[i] = length * scale
	}
	s.Dash = dash
	return s
}

// Ellipse has its centre at (X, Y) and the half axes RX and RY; RX lies Turn
// degrees clockwise of the x axis.
type Ellipse struct {
	Style
	X, Y, RX, RY float64
	Turn         float64
}

// Circle is an Ellipse of one radius, which for a stroke is that of its middle.
func Circle(x, y, r float64, s Style) Ellipse { return Ellipse{Style: s, X: x, Y: y, RX: r, RY: r} }

func (e Ellipse) placed(scale, x, y float64) Shape {
	e.Style = e.Style.placed(scale)
	e.X, e.Y, e.RX, e.RY = x+scale*e.X, y+scale*e.Y, scale*e.RX, scale*e.RY
	return e
}

// Rectangle is upright, its upper left corner at (X, Y).
type Rectangle struct {
	Style
	X, Y, Wide, Tall float64
}

// Box is a Rectangle by its upper left and lower right corner.
func Box(from, to Point, s Style) Rectangle {
	return Rectangle{Style: s, X: from.X, Y: from.Y, Wide: to.X - from.X, Tall: to.Y - from.Y}
}

func (r Rectangle) placed(scale, x, y float64) Shape {
	r.Style = r.Style.placed(scale)
	r.X, r.Y, r.Wide, r.Tall = x+scale*r.X, y+scale*r.Y, scale*r.Wide, scale*r.Tall
	return r
}

// Path is straight lines from point to point, with butt ends and round corners.
type Path struct {
	Style
	Points []Point // one or more
	Closed bool    // back to the first
}

// Line is an open Path.
func Line(s Style, points ...Point) Path { return Path{Style: s, Points: points} }

// Polygon is a closed Path.
func Polygon(s Style, corners ...Point) Path { return Path{Style: s, Points: corners, Closed: true} }

// Sweep is a part of a circle in straight pieces, from one angle to another, in
// degrees clockwise from the top.
type Sweep struct {
	From, To float64
	Pieces   int
}

// Arc is the corners of a sweep of the circle of radius r about c: one more than it
// has pieces. A piece of the angle a departs from the circle by r (1 - cos(a/2)).
func Arc(c Point, r float64, s Sweep) []Point {
	out := make([]Point, s.Pieces+1)
	for i := range out {
		sin, cos := math.Sincos((s.From + (s.To-s.From)*float64(i)/float64(s.Pieces)) * math.Pi / 180)
		out[i] = Point{c.X + r*sin, c.Y - r*cos}
	}
	return out
}

// Regular is the corners of a regular polygon that stands on a corner, r from c.
func Regular(c Point, r float64, corners int) []Point {
	return Arc(c, r, Sweep{From: 0, To: 360, Pieces: corners})[:corners]
}

func (p Path) placed(scale, x, y float64) Shape {
	p.Style = p.Style.placed(scale)
	points := make([]Point, len(p.Points))
	for i, q := range p.Points {
		points[i] = Point{x + scale*q.X, y + scale*q.Y}
	}
	p.Points = points
	return p
}

// Figure is shapes in a frame of their own, to be drawn at any size: a target in mm
// from its centre, a sign in a square. The frame's upper left corner is (Left, Top).
type Figure struct {
	Left, Top, Wide, Tall float64
	Shapes                []Shape
	Title                 string // what is seen, in words, "" for decoration
}

// Square is a Figure whose frame reaches equally far to all sides of the origin.
func Square(reach float64, shapes ...Shape) Figure {
	return Figure{Left: -reach, Top: -reach, Wide: 2 * reach, Tall: 2 * reach, Shapes: shapes}
}

// TallAt is the figure's height when it is drawn so wide.
func (f Figure) TallAt(wide float64) float64 { return wide * f.Tall / f.Wide }

// At is the figure on a page: its frame's upper left corner at (x, y), wide mm wide.
// With the scale s = wide / Wide, a point p of the frame lies at
// (x, y) + s (p - (Left, Top)).
func (f Figure) At(x, y, wide float64) []Shape {
	scale := wide / f.Wide
	out := make([]Shape, len(f.Shapes))
	for i, s := range f.Shapes {
		out[i] = s.placed(scale, x-scale*f.Left, y-scale*f.Top)
	}
	return out
}
