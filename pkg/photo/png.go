package photo

import (
	"encoding/binary"
	"hash/crc32"
	"math"
)

// walkPNG follows the chunks (PNG specification, section 5) to the end chunk
// and checks each one's CRC.
func walkPNG(data []byte) (header, error) {
	head := header{format: pngFormat}
	pixels := false
	for pos := len(pngStart); ; {
		kind, body, next, err := pngChunk(data, pos)
		if err != nil {
			return head, err
		}
		first := pos == len(pngStart)
		switch {
		case first && (kind != "IHDR" || len(body) != ihdrLength):
			return head, cutOff("its header chunk is missing")
		case first:
			if head.width, head.height, err = pngSize(body); err != nil {
				return head, err
			}
		case kind == "IDAT":
			pixels = true
		case kind == "IEND" && !pixels:
			return head, cutOff("there is no picture in it")
		case kind == "IEND":
			return head, nil
		}
		pos = next
	}
}

// ihdrLength is the length of IHDR's body in bytes: width and height, each 4, and five
// more of one byte (PNG specification, section 11.2.1).
const ihdrLength = 13

// pngChunk returns the chunk at pos and the place of the next one.
func pngChunk(data []byte, pos int) (kind string, body []byte, next int, err error) {
	const around = 4 + 4 + 4 // bytes of length, kind, CRC (PNG specification, section 5.3)
	if len(data)-pos < around {
		return "", nil, 0, cutOff("its end is missing")
	}
	length := int64(binary.BigEndian.Uint32(data[pos:]))
	if length > int64(len(data)-pos-around) {
		return "", nil, 0, cutOff("it ends within a chunk")
	}
	end := pos + 8 + int(length)
	if crc32.ChecksumIEEE(data[pos+4:end]) != binary.BigEndian.Uint32(data[end:]) {
		return "", nil, 0, cutOff("a checksum does not fit")
	}
	return string(data[pos+4 : pos+8]), data[pos+8 : end], end + 4, nil
}

// pngSize reads width and height from the body of IHDR.
func pngSize(body []byte) (width, height int, err error) {
	w, h := binary.BigEndian.Uint32(body), binary.BigEndian.Uint32(body[4:])
	if w == 0 || h == 0 || w > math.MaxInt32 || h > math.MaxInt32 {
		return 0, 0, cutOff("its size makes no sense")
	}
	return int(w), int(h), nil
}
