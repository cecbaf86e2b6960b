package darkroom

import (
	"image"
	"sync"

	"burngauge.dev/burngauge/pkg/studio/exif"
)

// pixel is red, green, blue and opacity, 8 bits each.
type pixel [4]uint8

// storage is a picture whose rows are made upright and stored as an EXIF orientation asks.
type storage struct {
	img           *image.RGBA
	width, height int // upright
	// The upright pixel (x, y) is stored at first + right*x + down*y of img.Pix.
	first, right, down int
}

func newStorage(width, height, orientation int) *storage {
	w, h := width, height
	if orientation >= 5 && orientation <= 8 {
		w, h = h, w
	}
	s := &storage{img: newImage(w, h), width: width, height: height}
	at := func(x, y int) int { return s.img.PixOffset(exif.Stored(orientation, x, y, width, height)) }
	s.first = at(0, 0)
	s.right, s.down = at(1, 0)-s.first, at(0, 1)-s.first
	return s
}

// room is for some upright rows.
func (s *storage) room(rows int) [][]pixel {
	list := make([][]pixel, rows)
	for i := range list {
		list[i] = make([]pixel, s.width)
	}
	return list
}

// tile is how many pixels of a row are stored before the next row's. In a picture that is
// stored on its side these come down one below the other; those of the next rows lie
// beside them, and the processor still has the places at hand.
const tile = 16

// put stores rows, the first one being the upright row y.
func (s *storage) put(rows [][]pixel, y int) {
	for x := 0; x < s.width; x += tile {
		for j, row := range rows {
			at := s.first + s.right*x + s.down*(y+j)
			for _, v := range row[x:min(x+tile, s.width)] {
				*(*pixel)(s.img.Pix[at:]) = v
				at += s.right
			}
		}
	}
}

// spare are images that are done with. At 12 megapixels one takes 48 MB: new ones each
// time would cost as much as storing the pixels.
var spare sync.Pool // of *image.RGBA

// newImage is an image whose pixels hold anything.
func newImage(width, height int) *image.RGBA {
	old, ok := spare.Get().(*image.RGBA)
	if !ok || cap(old.Pix) < 4*width*height {
		return image.NewRGBA(image.Rect(0, 0, width, height))
	}
	return &image.RGBA{Pix: old.Pix[:4*width*height], Stride: 4 * width, Rect: image.Rect(0, 0, width, height)}
}

// Release gives an image back, which is not used afterwards.
func Release(img *image.RGBA) { spare.Put(img) }
