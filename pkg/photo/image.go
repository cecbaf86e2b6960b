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

// Decode is the inverse of the sRGB curve: code value 0..1 to linear light 0..1.
func Decode(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}
