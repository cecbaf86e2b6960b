package photo

import (
	"encoding/binary"
	"slices"
)

// heifBrands are those that mark a file with still pictures, or films of them,
// in the container of HEIC and AVIF (ISO/IEC 23008-12, section 10; AV1 Image
// File Format, section 6).
var heifBrands = []string{
	"heic", "heix", "heim", "heis", "hevc", "hevx", "hevm", "hevs",
	"mif1", "mif2", "msf1", "miaf", "avif", "avis",
}

// isHEIF knows HEIC and AVIF by the brands in the file's first box, whatever
// the file is called.
func isHEIF(data []byte) bool {
	first, _, ok := nextBox(data)
	if !ok || first.kind != "ftyp" {
		return false
	}
	for at := 0; at+4 <= len(first.body); at += 4 {
		const version = 4 // stands between the main brand and the further ones
		if at != version && slices.Contains(heifBrands, string(first.body[at:at+4])) {
			return true
		}
	}
	return false
}

// inspectHEIF walks the boxes and asks libheif, which decodes nothing yet, for
// the main picture's size. The size is the upright one.
func inspectHEIF(data []byte) (header, error) {
	head := header{format: heifFormat}
	boxes, meta, err := walkHEIF(data)
	if err != nil {
		return head, err
	}
	head.codedWidth, head.codedHeight = largestCoded(meta)
	err = withMainPicture(boxes, func(main mainPicture) error {
		head.width, head.height = main.size()
		return nil
	})
	return head, err
}

// isHEIFStart knows a file that ends before its brands: the first stands behind the
// box's length and kind, 4 bytes each.
func isHEIFStart(data []byte) bool {
	const length, kind, brand = 4, 4, 4
	return len(data) >= length+kind && len(data) < length+kind+brand && string(data[length:length+kind]) == "ftyp"
}

// walkHEIF checks that the file holds whole boxes and all of the compressed
// data. It returns the part that the boxes fill, since what phones put behind
// them, not always in boxes, is left alone, and the boxes that describe the picture.
func walkHEIF(data []byte) (boxes, meta []byte, err error) {
	var film bool
	end := 0
	for {
		b, rest, ok := nextBox(data[end:])
		if !ok {
			break
		}
		if !b.whole() {
			if meta == nil || b.kind == "mdat" {
				return nil, nil, cutOff("its end is missing")
			}
			break
		}
		switch {
		case b.kind == "meta" && meta == nil && len(b.body) > 4:
			meta = b.body[4:] // behind its version and flags
		case b.kind == "moov":
			film = true
		}
		end = len(data) - len(rest)
	}
	switch {
	case meta == nil && film:
		return nil, nil, refuse(NotAnImage, nil, "this holds a film or a burst and no single picture: save one picture of it as a photo")
	case meta == nil:
		return nil, nil, cutOff("the part that describes the picture is missing")
	}
	return data[:end], meta, checkExtents(data[:end], meta)
}

// heifEXIF is the TIFF part of the main picture's EXIF block, nil when there is
// none. Its first four bytes say how many more stand before that part (ISO/IEC
// 23008-12, annex A.2.1).
func heifEXIF(data []byte) []byte {
	var block []byte
	boxes, _, err := walkHEIF(data)
	if err == nil {
		err = withMainPicture(boxes, func(main mainPicture) error {
			block = main.exif()
			return nil
		})
	}
	if err != nil || len(block) < 4 {
		return nil
	}
	before, block := binary.BigEndian.Uint32(block), block[4:]
	if int64(before) > int64(len(block)) {
		return nil
	}
	return block[before:]
}

// decodeHEIF turns the file's bytes into the upright picture. The container's
// own rotation and mirroring are undone by libheif; the EXIF orientation, which
// many phones write as well, is no instruction in such a file (ISO/IEC 23008-12,
// annex A.2.1) and would turn the picture twice.
func decodeHEIF(data []byte, head header) (Image, error) {
	boxes, _, err := walkHEIF(data)
	if err != nil {
		return Image{}, err
	}
	var picture Image
	err = withMainPicture(boxes, func(main mainPicture) (err error) {
		picture, err = main.decode(head)
		return err
	})
	return picture, err
}
