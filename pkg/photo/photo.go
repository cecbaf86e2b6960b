// Package photo turns a file's bytes into an upright picture, its facts and a hash.
package photo

import "math"

// Facts are what a file says of itself.
type Facts struct {
	File          string  // base name
	SHA256        string  // of the bytes that were measured, hex
	Bytes         int64   // size of the file
	Width, Height int     // px, upright
	Orientation   int     // EXIF orientation that was undone, 1..8; 1 when there was none, and for HEIC, which turns by its container
	Taken         string  // RFC 3339 with offset; without offset when the camera wrote none; "" unknown
	Camera        string  // make and model, "" unknown
	Focal35MM     float64 // EXIF 35 mm equivalent focal length, 0 unknown
	HasEXIF       bool    // false: stripped, as messengers do
}

// Photo is one decoded photo, upright.
type Photo struct {
	Facts
	Image
}

// fullFrameDiagonalMM is the diagonal of the 36 mm x 24 mm frame that a "35 mm
// equivalent" focal length refers to: sqrt(36^2 + 24^2).
const fullFrameDiagonalMM = 43.266615305567875

// FocalPx is the focal length in pixels that the file's 35 mm equivalent
// claims, by the picture's diagonal (CIPA DCG-001); false when the file claims
// none. It is rounded to whole millimetres by the camera (2 % at 26 mm) and is
// wrong for cropped, zoomed or stitched pictures: a plausibility check only.
func (f Facts) FocalPx() (float64, bool) {
	if f.Focal35MM <= 0 || f.Width <= 0 || f.Height <= 0 {
		return 0, false
	}
	diagonal := math.Hypot(float64(f.Width), float64(f.Height))
	return f.Focal35MM * diagonal / fullFrameDiagonalMM, true
}
