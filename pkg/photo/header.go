package photo

import "bytes"

type format int

const (
	unknownFormat format = iota
	jpegFormat
	pngFormat
)

// header is what a file says of its picture before anything is decoded.
type header struct {
	format        format
	width, height int  // px as stored, before the orientation is undone; 0 when not reached
	slowCheck     bool // a missing end would not show in the decoded picture's last corner
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
	case len(data) < len(pngStart) && (bytes.HasPrefix([]byte(pngStart), data) || bytes.HasPrefix([]byte(jpegStart), data)):
		return header{}, cutOff("it ends within its first bytes")
	case isHEIF(data):
		return header{}, refuse(NotAnImage, nil, "this is a HEIC or AVIF picture: export it as a JPEG, or set the camera to \"most compatible\"")
	}
	return header{}, refuse(NotAnImage, nil, "this is neither a JPEG nor a PNG picture: name a photo, or save it as a JPEG")
}

// isHEIF tells the container of HEIC and AVIF by the box type it opens with (ISO/IEC 14496-12).
func isHEIF(data []byte) bool {
	if len(data) < 12 || string(data[4:8]) != "ftyp" {
		return false
	}
	switch string(data[8:12]) {
	case "heic", "heix", "hevc", "hevx", "heim", "heis", "mif1", "msf1", "avif", "avis":
		return true
	}
	return false
}

func (h header) checkSize(limit int64) error {
	if int64(h.width)*int64(h.height) <= limit { // each is below 2^31: no overflow
		return nil
	}
	return refuse(TooLarge, nil, "the picture claims %d x %d pixels, more than %d megapixels: set the camera to fewer, 12 are plenty",
		h.width, h.height, limit/1e6)
}
