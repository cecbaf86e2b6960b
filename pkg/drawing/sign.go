package drawing

// Sign is a state as a form, so that it is read without colour too.
type Sign int

// Tick is a disc with a tick, Cross a square with a cross, Bar a diamond with a
// bar, Hollow a broken circle with nothing in it.
const (
	Hollow Sign = iota
	Tick
	Cross
	Bar
)

// SignReach is how far a sign's frame reaches from its middle, in units of half its
// width: the disc, which is the widest, has a radius of 0.95.
const SignReach = 1.1

// Figure draws the sign in a colour.
func (s Sign) Figure(c Colour) Figure {
	solid := Style{Stroke: c, Width: 0.15, Fill: &c}
	mark := Stroked(White, 0.3)
	switch s {
	case Tick:
		return Square(SignReach, Circle(0, 0, 0.95, solid), Line(mark, Point{-0.5, 0}, Point{-0.1, 0.4}, Point{0.5, -0.4}))
	case Cross:
		return Square(SignReach, Box(Point{-0.85, -0.85}, Point{0.85, 0.85}, solid), Line(mark, Point{-0.45, -0.45}, Point{0.45, 0.45}), Line(mark, Point{-0.45, 0.45}, Point{0.45, -0.45}))
	case Bar:
		return Square(SignReach, Polygon(solid, Regular(Point{0, 0}, 1, 4)...), Line(mark, Point{-0.5, 0}, Point{0.5, 0}))
	}
	return Square(SignReach, Circle(0, 0, 0.85, Stroked(c, 0.25, 0.45, 0.3)))
}
