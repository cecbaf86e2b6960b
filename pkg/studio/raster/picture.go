package raster

// Picture is an upright picture in linear light: red, green, blue, row after row
// from the top. Pixel (0, 0) is the centre of the top left pixel.
type Picture struct {
	Width, Height int
	Pix           []float32 // len = 3 * Width * Height
}

// row is a row's pixels.
func (p *Picture) row(y int) []float32 { return p.Pix[3*y*p.Width:][:3*p.Width] }

// NewPicture is a black picture.
func NewPicture(width, height int) *Picture {
	return &Picture{width, height, make([]float32, 3*width*height)}
}

// Rows of the picture.
func (p *Picture) Rows() Rows {
	out := NewLine(p.Width)
	return func(y int) Line {
		for x, row := 0, p.row(y); x < p.Width; x, row = x+1, row[3:] {
			out[0][x], out[1][x], out[2][x] = row[0], row[1], row[2]
		}
		return out
	}
}

// Put writes a row into the picture.
func (p *Picture) Put(y int, l Line) {
	for x, row := 0, p.row(y); x < p.Width; x, row = x+1, row[3:] {
		row[0], row[1], row[2] = l[0][x], l[1][x], l[2][x]
	}
}
