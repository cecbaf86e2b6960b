package exif

import (
	"encoding/binary"
)

// Block is what a phone writes about a photo. Empty fields are left out.
type Block struct {
	Make, Model string
	Orientation int    // 1..8; 0 leaves the tag out and stores the picture upright
	Taken       string // "2006:01:02 15:04:05", local time
	Offset      string // "+02:00"
	Focal35     int    // 35 mm equivalent focal length, mm
	BigEndian   bool   // byte order "MM" instead of "II"
}

// Upright is where the stored pixel (x, y) of a stored picture of width x height
// goes when an EXIF orientation (tag 0x0112) is undone. The tag says which sides of the
// scene the stored row 0 and column 0 are:
//
//	1 top, left      2 top, right     3 bottom, right   4 bottom, left
//	5 left, top      6 right, top     7 right, bottom   8 left, bottom
//
// Other values leave the pixel where it is.
func Upright(orientation, x, y, width, height int) (ux, uy int) {
	switch orientation {
	case 2:
		return width - 1 - x, y
	case 3:
		return width - 1 - x, height - 1 - y
	case 4:
		return x, height - 1 - y
	case 5:
		return y, x
	case 6:
		return height - 1 - y, x
	case 7:
		return height - 1 - y, width - 1 - x
	case 8:
		return y, width - 1 - x
	}
	return x, y
}

// Stored is where the upright pixel (x, y) of an upright picture of width x height is
// stored: Upright the other way round.
func Stored(orientation, x, y, width, height int) (sx, sy int) {
	switch orientation { // a quarter turn is undone by the other one, all else by itself
	case 6:
		orientation = 8
	case 8:
		orientation = 6
	}
	return Upright(orientation, x, y, width, height)
}

// Tags, by their names in Exif 2.32, tables 4 and 7.
const (
	tagMake        = 0x010F // Make
	tagModel       = 0x0110 // Model
	tagOrientation = 0x0112 // Orientation
	tagExif        = 0x8769 // ExifIFDPointer
	tagVersion     = 0x9000 // ExifVersion
	tagTaken       = 0x9003 // DateTimeOriginal
	tagOffset      = 0x9011 // OffsetTimeOriginal
	tagFocal35     = 0xA405 // FocalLengthIn35mmFilm
)

// TIFF field types (Exif 2.32, section 4.6.2).
const (
	typeASCII     = 2
	typeShort     = 3
	typeLong      = 4
	typeUndefined = 7
)

// field is one directory entry; data is already in the file's byte order.
type field struct {
	tag, kind uint16
	count     uint32
	data      []byte
}

// App1 is the whole marker segment: marker, length, "Exif" and a TIFF block of
// two directories. Entries are in rising order of tags, as TIFF demands.
func (m *Block) App1() []byte {
	var order binary.AppendByteOrder = binary.LittleEndian
	mark := "II"
	if m.BigEndian {
		order, mark = binary.BigEndian, "MM"
	}
	w := tiff{order}
	var first, exif []field
	first = w.text(first, tagMake, m.Make)
	first = w.text(first, tagModel, m.Model)
	first = w.short(first, tagOrientation, m.Orientation)
	exif = append(exif, field{tagVersion, typeUndefined, 4, []byte("0232")})
	exif = w.text(exif, tagTaken, m.Taken)
	exif = w.text(exif, tagOffset, m.Offset)
	exif = w.short(exif, tagFocal35, m.Focal35)

	const header = 8
	pointer := field{tagExif, typeLong, 1, order.AppendUint32(nil, 0)}
	second := uint32(header + w.size(append(first[:len(first):len(first)], pointer)))
	pointer.data = order.AppendUint32(nil, second)
	block := append([]byte(mark), order.AppendUint16(nil, 42)...)
	block = order.AppendUint32(block, header)
	block = append(block, w.directory(append(first, pointer), header)...)
	block = append(block, w.directory(exif, second)...)

	out := []byte{0xFF, 0xE1}
	out = binary.BigEndian.AppendUint16(out, uint16(2+6+len(block)))
	out = append(out, "Exif\x00\x00"...)
	return append(out, block...)
}

// tiff writes directories in one byte order.
type tiff struct{ order binary.AppendByteOrder }

// text adds a string with the zero byte that ends it; an empty one is left out.
func (w tiff) text(list []field, tag uint16, s string) []field {
	if s == "" {
		return list
	}
	return append(list, field{tag, typeASCII, uint32(len(s) + 1), append([]byte(s), 0)})
}

// short adds a 16-bit number; 0 is left out.
func (w tiff) short(list []field, tag uint16, v int) []field {
	if v == 0 {
		return list
	}
	return append(list, field{tag, typeShort, 1, w.order.AppendUint16(nil, uint16(v))})
}

// size of a directory with its values, in bytes: 2 for the number of entries, 12 for each,
// 4 for the place of the next directory, then the values that are too long for an entry,
// each begun at an even place (TIFF 6.0, section 2).
func (w tiff) size(list []field) int {
	n := 2 + 12*len(list) + 4
	for _, f := range list {
		if len(f.data) > 4 {
			n += len(f.data) + len(f.data)&1
		}
	}
	return n
}

// directory writes one that begins at an offset of the block; long values follow it at even offsets.
func (w tiff) directory(list []field, offset uint32) []byte {
	at := offset + uint32(2+12*len(list)+4)
	out := w.order.AppendUint16(nil, uint16(len(list)))
	var values []byte
	for _, f := range list {
		out = w.order.AppendUint16(out, f.tag)
		out = w.order.AppendUint16(out, f.kind)
		out = w.order.AppendUint32(out, f.count)
		if len(f.data) <= 4 {
			out = append(out, append(f.data[:len(f.data):len(f.data)], 0, 0, 0, 0)[:4]...)
			continue
		}
		out = w.order.AppendUint32(out, at+uint32(len(values)))
		values = append(values, f.data...)
		if len(f.data)&1 == 1 {
			values = append(values, 0)
		}
	}
	out = w.order.AppendUint32(out, 0) // no next directory
	return append(out, values...)
}
