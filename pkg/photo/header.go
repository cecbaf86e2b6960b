package photo

import "bytes"

type format int

const (
	unknownFormat format = iota
	jpegFormat
	pngFormat
	heifFormat // HEIC, AVIF and others in the same container
)

// header is what a file says of its picture before anything is decoded.
type header struct {
	format        format
	width, height int // px as stored, before the EXIF orientation is undone; 0 when not reached
	// codedWidth and codedHeight are what the largest compressed part of a HEIF
	// container claims by itself, which costs as much to decode; else 0.
	codedWidth, codedHeight int64
	slowCheck               bool // a missing end would not show in the decoded picture's last corner
}

const (
	jpegStart = "\xff\xd8\xff"
	pngStart  = "\x89PNG\r\n\x1a\n"
)

// inspect walks the file from its first byte to the picture's real end without
// decoding. The header holds what was found also when there is an error.
func inspect(data []byte) (header, error) {
	switch {
	case bytes.HasPrefix(data, []byte(jpegStart)):
		return walkJPEG(data)
	case bytes.HasPrefix(data, []byte(pngStart)):
		return walkPNG(data)
	case isHEIFStart(data):
		return header{}, cutOff("it ends within its first bytes")
	case len(data) < len(pngStart) && (bytes.HasPrefix([]byte(pngStart), data) || bytes.HasPrefix([]byte(jpegStart), data)):
		return header{}, cutOff("it ends within its first bytes")
	case isHEIF(data):
		return inspectHEIF(data)
	}
	return header{}, refuse(NotAnImage, nil, "this is no JPEG, HEIC or PNG picture: name a photo, or save it as a JPEG")
}

func (h header) checkSize(limit int64) error {
	for _, claim := range [][2]int64{{int64(h.width), int64(h.height)}, {h.codedWidth, h.codedHeight}} {
		if claim[0]*claim[1] > limit { // each is below 2^31: no overflow
			return refuse(TooLarge, nil, "the picture claims %d x %d pixels, more than %d megapixels: set the camera to fewer, 12 are plenty",
				claim[0], claim[1], limit/1e6)
		}
	}
	return nil
}
