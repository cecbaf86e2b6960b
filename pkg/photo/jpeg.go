package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image/jpeg"
)

// Markers of ITU-T T.81, table B.1, without the leading 0xFF.
const (
	markTEM   = 0x01
	markSOF0  = 0xC0 // sequential
	markSOF1  = 0xC1 // extended sequential
	markSOF2  = 0xC2 // progressive
	markDHT   = 0xC4
	markJPG   = 0xC8
	markDAC   = 0xCC
	markSOF15 = 0xCF
	markRST0  = 0xD0
	markRST7  = 0xD7
	markSOI   = 0xD8
	markEOI   = 0xD9
	markSOS   = 0xDA
	markAPP14 = 0xEE
)

// maxScans bounds the passes over the whole picture that a file may ask for, each of
// which costs time whatever its length. libjpeg's own script for progressive files
// has ten (jcparam.c, jpeg_simple_progression); ten times as many are left to others.
const maxScans = 100

// jpegWalk is the state of one walk over a JPEG's segments.
type jpegWalk struct {
	data  []byte
	pos   int
	frame jpegFrame
	adobe bool // Adobe's APP14 segment was seen: four colours are then stored inverted
	scans int
	// lacking[c][k] counts the low bits of coefficient k of component c that no
	// scan has brought yet; unseen before its first scan.
	lacking [4][64]uint8
}

type jpegFrame struct {
	marker        byte
	width, height int
	ids           []byte // of the colour components, in order
}

const unseen = 0xFF

// walkJPEG follows the segments (ITU-T T.81, annex B) over all scans to the end
// marker and checks that the scans bring every coefficient to its last bit, so
// that a file which lost its tail is found even when an end marker was put back
// after an earlier scan.
func walkJPEG(data []byte) (header, error) {
	walk := jpegWalk{data: data, pos: 2}
	err := walk.run()
	head := header{format: jpegFormat, width: walk.frame.width, height: walk.frame.height}
	head.slowCheck = walk.needsSlowCheck()
	return head, err
}

// strictProgressive is the size in pixels up to which a progressive picture is
// decoded a second time to see whether its last scan is whole. It is chosen for its
// cost, about 65 ms and 12 MB a megapixel with Go's decoder on very noisy pictures:
// half a second at most. Messengers send progressive pictures, but small ones.
// Above it a cut within the last scan passes: what is lost is the lowest bit of some
// coefficients in the picture's lower part. A cut before the last scan is found at
// any size.
const strictProgressive = 8e6

// needsSlowCheck says whether missing entropy data could hide from
// looksFilled. In a single sequential scan it cannot: whatever is missing is
// missing at the picture's end. Four colours have another filler.
func (w *jpegWalk) needsSlowCheck() bool {
	if w.frame.marker == markSOF2 {
		return w.frame.width*w.frame.height <= strictProgressive
	}
	return w.scans > 1 || len(w.frame.ids) == 4
}

func (w *jpegWalk) run() error {
	for {
		marker, ok := w.nextMarker()
		if !ok {
			return cutOff("its end is missing")
		}
		switch {
		case marker == markEOI:
			return w.complete()
		case marker == markTEM || marker >= markRST0 && marker <= markSOI:
			continue // stands alone
		}
		body, ok := w.segment()
		if !ok {
			return cutOff("it ends within a segment")
		}
		if err := w.take(marker, body); err != nil {
			return err
		}
	}
}

// nextMarker moves behind the next marker. Stray bytes are passed over, as the
// decoder does.
func (w *jpegWalk) nextMarker() (byte, bool) {
	for {
		skip := bytes.IndexByte(w.data[w.pos:], 0xFF)
		if skip < 0 {
			return 0, false
		}
		w.pos += skip
		for w.pos < len(w.data) && w.data[w.pos] == 0xFF { // any number of fill bytes
			w.pos++
		}
		if w.pos == len(w.data) {
			return 0, false
		}
		marker := w.data[w.pos]
		w.pos++
		if marker != 0 { // 0xFF 0x00 is a stuffed byte of a scan
			return marker, true
		}
	}
}

// segment moves behind the segment whose length stands at pos and returns its body.
func (w *jpegWalk) segment() ([]byte, bool) {
	if len(w.data)-w.pos < 2 {
		return nil, false
	}
	length := int(binary.BigEndian.Uint16(w.data[w.pos:])) // counts itself
	if length < 2 || length > len(w.data)-w.pos {
		return nil, false
	}
	body := w.data[w.pos+2 : w.pos+length]
	w.pos += length
	return body, true
}

func (w *jpegWalk) take(marker byte, body []byte) error {
	switch {
	case marker == markDHT || marker == markJPG || marker == markDAC: // not frames, though in their range
		return nil
	case marker >= markSOF0 && marker <= markSOF15:
		return w.takeFrame(marker, body)
	case marker == markAPP14:
		w.adobe = w.adobe || bytes.HasPrefix(body, []byte("Adobe"))
	case marker == markSOS:
		if err := w.takeScan(body); err != nil {
			return err
		}
		w.skipEntropyData()
	}
	return nil
}

// takeFrame reads a frame header (ITU-T T.81, section B.2.2): bits a sample, height,
// width, number of components in 1, 2, 2, 1 bytes, then 3 bytes for each component,
// of which the first is its number.
func (w *jpegWalk) takeFrame(marker byte, body []byte) error {
	if w.frame.ids != nil || len(body) < 6 || len(body) < 6+3*int(body[5]) {
		return cutOff("its frame header makes no sense")
	}
	w.frame = jpegFrame{
		marker: marker,
		height: int(binary.BigEndian.Uint16(body[1:])),
		width:  int(binary.BigEndian.Uint16(body[3:])),
	}
	for i := range int(body[5]) {
		w.frame.ids = append(w.frame.ids, body[6+3*i])
	}
	switch n := len(w.frame.ids); {
	case marker > markSOF2:
		return undecodable("a lossless, hierarchical or arithmetic JPEG")
	case body[0] != 8:
		return undecodable("a JPEG of other than 8 bits a colour")
	case w.frame.width == 0 || w.frame.height == 0:
		return undecodable("a JPEG that does not state its size")
	case n != 1 && n != 3 && n != 4:
		return undecodable("a JPEG of other than one, three or four colours")
	}
	for c := range w.lacking {
		for k := range w.lacking[c] {
			w.lacking[c][k] = unseen
		}
	}
	return nil
}

// takeScan notes which coefficients, and down to which bit, a scan brings. Its header
// (ITU-T T.81, section B.2.3) is the number of components, 2 bytes for each, first and
// last coefficient, and a byte whose lower half is the lowest bit.
func (w *jpegWalk) takeScan(body []byte) error {
	bad := cutOff("a scan header makes no sense")
	if w.frame.ids == nil || len(body) == 0 || len(body) < 1+2*int(body[0])+3 {
		return bad
	}
	if w.scans++; w.scans > maxScans {
		return undecodable(fmt.Sprintf("a JPEG of more than %d scans", maxScans))
	}
	n := int(body[0])
	first, last, low := body[1+2*n], body[2+2*n], body[3+2*n]&0x0F
	if w.frame.marker != markSOF2 {
		first, last, low = 0, 63, 0 // a sequential scan brings all of its components
	}
	if first > last || last > 63 {
		return bad
	}
	for i := range n {
		c := bytes.IndexByte(w.frame.ids, body[1+2*i])
		if c < 0 {
			return bad
		}
		for k := first; k <= last; k++ {
			w.lacking[c][k] = low
		}
	}
	return nil
}

// skipEntropyData moves to the marker that ends a scan: the first that is
// neither a stuffed byte nor a restart.
func (w *jpegWalk) skipEntropyData() {
	for {
		skip := bytes.IndexByte(w.data[w.pos:], 0xFF)
		if skip < 0 || w.pos+skip+1 >= len(w.data) {
			w.pos = len(w.data)
			return
		}
		w.pos += skip
		next := w.data[w.pos+1]
		if next != 0 && (next < markRST0 || next > markRST7) {
			return
		}
		w.pos += 2
	}
}

// complete is asked at the end marker.
func (w *jpegWalk) complete() error {
	if w.scans == 0 {
		return cutOff("there is no picture in it")
	}
	for c := range w.frame.ids {
		for k := range w.lacking[c] {
			if w.lacking[c][k] != 0 {
				return cutOff("its last scans are missing")
			}
		}
	}
	if len(w.frame.ids) == 4 && !w.adobe { // nothing says which way round the inks are stored
		return undecodable("a four-colour JPEG without Adobe's mark")
	}
	return nil
}

// fillerGrey is what the JPEG library puts, without a word, where entropy data ran
// out: blocks of zero coefficients. Samples are coded less 128 (ITU-T T.81, section
// A.3.1), so that a block of zeros decodes to the middle of the range.
const fillerGrey = 128

// looksFilled says whether the last 8 x 8 block of the stored picture is
// filler. A photo's own noise hardly ever gives exactly that. The block's first
// row and column are left out: the decoder smooths colour over from the
// neighbours there.
func looksFilled(stored Image) bool {
	left, top := beginOfLastBlock(stored.Width), beginOfLastBlock(stored.Height)
	for y := top; y < stored.Height; y++ {
		row := stored.Pix[3*(y*stored.Width+left) : 3*(y+1)*stored.Width]
		for _, v := range row {
			if v != fillerGrey {
				return false
			}
		}
	}
	return true
}

// beginOfLastBlock is the second place of the last block of eight (ITU-T T.81, section
// A.1.1), or the only one.
func beginOfLastBlock(length int) int {
	return min((length-1)/8*8+1, length-1)
}

// entropyRunsOut decodes the JPEG again with Go's strict decoder, which reports
// what the fast one fills in. It takes two to four times as long, so it is
// asked only where there is a reason.
func entropyRunsOut(data []byte) bool {
	_, err := jpeg.Decode(bytes.NewReader(data))
	unsupported := jpeg.UnsupportedError("")
	return err != nil && !errors.As(err, &unsupported)
}
