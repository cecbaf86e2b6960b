package darkroom

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"

	"burngauge.dev/burngauge/pkg/studio/exif"
)

// EncodeJPEG writes the upright picture as a phone does: pixels turned as
// meta.Orientation says they are stored, and the EXIF block. A nil meta writes
// no EXIF at all, as messengers leave a picture.
func EncodeJPEG(upright *image.RGBA, meta *exif.Block, quality int) ([]byte, error) {
	stored := upright
	if meta != nil {
		stored = Store(upright, meta.Orientation)
	}
	return EncodeStored(stored, meta, quality)
}

// EncodeStored is EncodeJPEG of pixels that are turned already.
func EncodeStored(stored *image.RGBA, meta *exif.Block, quality int) ([]byte, error) {
	var out bytes.Buffer
	if err := jpeg.Encode(&out, stored, &jpeg.Options{Quality: quality}); err != nil {
		return nil, fmt.Errorf("encode photo: %w", err)
	}
	if meta == nil {
		return out.Bytes(), nil
	}
	body := out.Bytes()
	whole := append([]byte{}, body[:2]...) // the start marker
	whole = append(whole, meta.App1()...)
	return append(whole, body[2:]...), nil
}

// Store gives the pixels as they are stored for an EXIF orientation, so that
// undoing the orientation gives the upright picture back. Orientations outside 2..8 change nothing.
func Store(upright *image.RGBA, orientation int) *image.RGBA {
	if orientation < 2 || orientation > 8 {
		return upright
	}
	s := newStorage(upright.Rect.Dx(), upright.Rect.Dy(), orientation)
	room := s.room(tile)
	for from := 0; from < s.height; from += tile {
		list := room[:min(tile, s.height-from)]
		for j, row := range list {
			pix := upright.Pix[(from+j)*upright.Stride:]
			for x := range row {
				row[x] = pixel(pix[4*x:])
			}
		}
		s.put(list, from)
	}
	return s.img
}
