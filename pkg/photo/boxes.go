package photo

import (
	"bytes"
	"encoding/binary"
)

// box is one box of the container of ISO/IEC 14496-12, section 4.2.
type box struct {
	kind string
	body []byte // what it holds of data, cut short when the data ends before it
	size int64  // what its header says its body should be
}

func (b box) whole() bool { return b.size == int64(len(b.body)) }

// nextBox takes the box that data begins with; false when there is none.
func nextBox(data []byte) (b box, rest []byte, ok bool) {
	if len(data) < 8 || !isBoxKind(data[4:8]) {
		return box{}, nil, false
	}
	head, size := 8, int64(binary.BigEndian.Uint32(data))
	switch {
	case size == 0: // to the end of the file
		size = int64(len(data))
	case size == 1 && len(data) >= 16:
		head, size = 16, int64(min(binary.BigEndian.Uint64(data[8:]), 1<<62))
	}
	if size < int64(head) {
		return box{}, nil, false
	}
	end := int(min(size, int64(len(data))))
	return box{string(data[4:8]), data[head:end], size - int64(head)}, data[end:], true
}

// isBoxKind distinguishes four printable letters, as all kinds in use are, from other data.
func isBoxKind(kind []byte) bool {
	for _, c := range kind {
		if c < ' ' || c > '~' {
			return false
		}
	}
	return true
}

// boxesIn lists the whole boxes in a box's body, or in the part of a body that
// holds boxes.
func boxesIn(body []byte) (boxes []box) {
	for {
		b, rest, ok := nextBox(body)
		if !ok || !b.whole() {
			return boxes
		}
		boxes, body = append(boxes, b), rest
	}
}

// firstBox is the body of the first box of a kind, nil when there is none.
func firstBox(body []byte, kind string) []byte {
	for _, b := range boxesIn(body) {
		if b.kind == kind {
			return b.body
		}
	}
	return nil
}

// fields reads big-endian numbers one after another. Beyond the end it gives
// zeros and remembers that.
type fields struct {
	data  []byte
	short bool
}

func (f *fields) next(n int) uint64 {
	if n > len(f.data) {
		f.data, f.short = nil, true
		return 0
	}
	var wide [8]byte
	copy(wide[8-n:], f.data[:n])
	f.data = f.data[n:]
	return binary.BigEndian.Uint64(wide[:])
}

// numberOf reads 2 bytes, or 4 in the later versions of a box.
func (f *fields) numberOf(wide bool) uint64 {
	if wide {
		return f.next(4)
	}
	return f.next(2)
}

// codedKinds are the items that hold a picture's compressed data (ISO/IEC
// 23008-12, annex B; AV1 Image File Format, section 2).
var codedKinds = map[string]bool{"hvc1": true, "hev1": true, "av01": true}

// codedItems are the numbers of the items that hold compressed data, by the
// boxes iinf and infe (ISO/IEC 14496-12, section 8.11.6).
func codedItems(meta []byte) map[uint64]bool {
	items := map[uint64]bool{}
	info := fields{data: firstBox(meta, "iinf")}
	info.numberOf(info.next(4)>>24 > 0)
	for _, b := range boxesIn(info.data) {
		entry := fields{data: b.body}
		version := entry.next(4) >> 24
		if b.kind != "infe" || version < 2 {
			continue
		}
		id := entry.numberOf(version > 2)
		entry.next(2) // protection
		if len(entry.data) >= 4 && codedKinds[string(entry.data[:4])] {
			items[id] = true
		}
	}
	return items
}

// extent is where a part of an item lies in the file.
type extent struct{ offset, length uint64 }

// codedExtents lists where the compressed data lies, by the box iloc (ISO/IEC
// 14496-12, section 8.11.3). Data kept in the description itself is left out.
func codedExtents(meta []byte) (extents []extent) {
	coded := codedItems(meta)
	f := fields{data: firstBox(meta, "iloc")}
	version := f.next(4) >> 24
	sizes := f.next(2)
	offsetSize, lengthSize, baseSize := int(sizes>>12), int(sizes>>8&15), int(sizes>>4&15)
	indexSize := 0
	if version > 0 {
		indexSize = int(sizes & 15)
	}
	if max(offsetSize, lengthSize, baseSize, indexSize) > 8 || offsetSize+lengthSize == 0 {
		return nil // without sizes any number of extents would cost the file nothing
	}
	for range f.numberOf(version > 1) {
		id := f.numberOf(version > 1)
		inFile := version == 0 || f.next(2)&15 == 0
		f.next(2) // which file: always this one
		base := f.next(baseSize)
		for range f.next(2) {
			f.next(indexSize)
			part := extent{base + f.next(offsetSize), f.next(lengthSize)}
			if f.short {
				return extents
			}
			if inFile && coded[id] {
				extents = append(extents, part)
			}
		}
		if f.short {
			return extents
		}
	}
	return extents
}

// emptyRun is a run of zero bytes that compressed data never holds: of HEVC any
// three in a row are escaped (ITU-T H.265, section 7.4.2), and arithmetic-coded
// data such as AV1's would hold 64 once in 10^150. A file whose copying was
// broken off after its room had been set aside holds pages of them.
var emptyRun = make([]byte, 64)

// inside says whether all of an extent is there.
func (e extent) inside(data []byte) bool {
	return e.offset <= uint64(len(data)) && e.length <= uint64(len(data))-e.offset
}

// checkExtents looks whether the compressed data is all there.
func checkExtents(data, meta []byte) error {
	toSearch := uint64(len(data)) // a file may name the same part many times over
	for _, part := range codedExtents(meta) {
		if !part.inside(data) {
			return cutOff("its end is missing")
		}
		if part.length > toSearch {
			continue
		}
		toSearch -= part.length
		if bytes.Contains(data[part.offset:part.offset+part.length], emptyRun) {
			return cutOff("a part of it was never written")
		}
	}
	return nil
}
