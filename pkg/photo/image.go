package photo

import "math"

// Image is an upright colour picture: 8-bit sRGB-coded blue, green, red, row
// after row from the top, three bytes a pixel and no padding. Pixel (0, 0) is
// the CENTRE of the top left pixel; x runs right, y down.
type Image struct {
	Width, Height int
	Pix           []byte // len = 3 * Width * Height
}

// Linear maps an sRGB code value to linear light, 0..1, by the inverse of the
// sRGB curve (IEC 61966-2-1). Phone cameras tone-map, so "linear" is nominal.
var Linear = linearTable()

func linearTable() (table [256]float32) {
	for code := range table {
		table[code] = float32(Decode(float64(code) / 255))
	}
	return table
}

// Decode is the inverse of the sRGB curve: code value v, 0..1, to linear light, 0..1,
//
//	v / 12.92                   up to v = 0.04045
//	((v + 0.055) / 1.055)^2.4   above
//
// (IEC 61966-2-1:1999, section 5.2).
func Decode(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// Cropped says whether the sides fit no format that cameras take, so that the
// picture was cut out of one by hand: neither its middle nor the focal length
// that its file states can be relied on then. A cut that keeps a format is not
// noticed.
func (m Image) Cropped() bool {
	long, short := float64(max(m.Width, m.Height)), float64(min(m.Width, m.Height))
	for _, format := range formats {
		if math.Abs(long-format*short) <= formatTolerance*long {
			return false
		}
	}
	return true
}

// formats are cameras' own, long side over short: square, 5:4, 4:3, 3:2, 16:10,
// 16:9, 2:1, and what fills phones' screens. Common practice, no source.
var formats = []float64{1, 5.0 / 4, 4.0 / 3, 3.0 / 2, 16.0 / 10, 16.0 / 9, 2, 18.5 / 9, 19.0 / 9, 19.5 / 9, 20.0 / 9, 21.0 / 9}

// formatTolerance is how far the long side may lie from a format, as a part of it: 16
// pixels of 4000, the JPEG block with halved colour that makers round to. Were it
// larger, more cuts by hand would pass as a camera's picture; were it smaller, a
// camera's picture would count as cut.
const formatTolerance = 0.004
