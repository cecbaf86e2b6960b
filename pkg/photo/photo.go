// Package photo turns a file's bytes into an upright picture, its facts and a hash.
package photo

// Facts are what a file says of itself.
type Facts struct {
	File          string  // base name
	SHA256        string  // of the bytes that were measured, hex
	Bytes         int64   // size of the file
	Width, Height int     // px, upright
	Orientation   int     // EXIF orientation that was undone, 1..8; 1 when there was none
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
