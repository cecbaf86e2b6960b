package raster

// Line is one row of a picture, colour by colour: red, green, blue. Sums along whole
// colours are several times quicker than along pixels.
type Line [3][]float32

// NewLine is a row of black pixels.
func NewLine(width int) (l Line) {
	for c := range l {
		l[c] = make([]float32, width)
	}
	return l
}

// Set sets a pixel.
func (l *Line) Set(x int, red, green, blue float64) {
	l[0][x], l[1][x], l[2][x] = float32(red), float32(green), float32(blue)
}

// Rows gives a picture's row y. It holds until the next call.
type Rows func(y int) Line
