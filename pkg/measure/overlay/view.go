package overlay

import (
	"image"
	"math"

	"golang.org/x/image/draw"

	"burngauge.dev/burngauge/pkg/photo"
)

const (
	fullSide   = 1600 // px of the longer side of the picture
	mostScale  = 2    // of the photo's own pixels: more shows nothing more
	leastWidth = 1000 // px of the overlay's width: room for the words below a small picture

	// leastCrop is how much of the photo, in its px, is shown at least: at
	// mostScale it gives a picture of leastWidth, with room for arrow and labels
	// around a tiny target.
	leastCrop = leastWidth / mostScale
)

// view is the part of the photo that is shown, and its scale.
type view struct {
	crop          image.Rectangle // px of the photo
	width, height int             // px of the picture
}

// whole reports whether a picture has all its pixels.
func whole(im photo.Image) bool {
	return im.Width > 0 && im.Height > 0 && len(im.Pix) >= 3*im.Width*im.Height
}

// newView shows the wanted region of the photo (a box in its px), as far as the
// photo reaches; an empty box is the whole photo.
func newView(im photo.Image, wanted box) view {
	all := image.Rect(0, 0, im.Width, im.Height)
	crop := wanted.within(all)
	if crop.Empty() {
		crop = all
	}
	crop = grown(crop, all)
	longer := float64(max(crop.Dx(), crop.Dy()))
	scale := min(fullSide/longer, mostScale)
	return view{crop: crop,
		width:  max(1, int(math.Round(scale*float64(crop.Dx())))),
		height: max(1, int(math.Round(scale*float64(crop.Dy()))))}
}

// grown widens a crop that is narrower than leastCrop, as far as the photo
// reaches.
func grown(crop, all image.Rectangle) image.Rectangle {
	crop.Min.X, crop.Max.X = stretch(crop.Min.X, crop.Max.X, all.Max.X)
	crop.Min.Y, crop.Max.Y = stretch(crop.Min.Y, crop.Max.Y, all.Max.Y)
	return crop
}

// stretch makes a span at least leastCrop long, about its middle, within 0..end.
func stretch(from, to, end int) (int, int) {
	length := min(max(to-from, leastCrop), end)
	from = min(max((from+to-length)/2, 0), end-length)
	return from, from + length
}

// at maps the photo's px, counted from the middle of its first pixel, to the
// picture's, counted from its top left corner.
func (v view) at(x, y float64) point {
	return point{
		(x + 0.5 - float64(v.crop.Min.X)) * float64(v.width) / float64(v.crop.Dx()),
		(y + 0.5 - float64(v.crop.Min.Y)) * float64(v.height) / float64(v.crop.Dy()),
	}
}

// paint draws the shown part of the photo into place. It first averages whole
// blocks of pixels, which keeps the memory small, and then interpolates.
func (v view) paint(dst *image.RGBA, place image.Rectangle, im photo.Image) {
	block := max(1, min(v.crop.Dx()/v.width, v.crop.Dy()/v.height))
	reduced := reduce(im, v.crop, block)
	draw.ApproxBiLinear.Scale(dst, place, reduced, reduced.Bounds(), draw.Src, nil)
}

// reduce averages blocks of block x block px; a rest at the right or bottom that
// fills no block is averaged as it is.
func reduce(im photo.Image, crop image.Rectangle, block int) *image.RGBA {
	width, height := (crop.Dx()+block-1)/block, (crop.Dy()+block-1)/block
	out := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			from := crop.Min.Add(image.Pt(x*block, y*block))
			mean(im, image.Rectangle{from, from.Add(image.Pt(block, block))}.Intersect(crop), out.Pix[out.PixOffset(x, y):])
		}
	}
	return out
}

// mean writes the mean of an area as red, green, blue, opaque.
func mean(im photo.Image, area image.Rectangle, rgba []byte) {
	var blue, green, red int
	for y := area.Min.Y; y < area.Max.Y; y++ {
		row := im.Pix[3*(y*im.Width+area.Min.X) : 3*(y*im.Width+area.Max.X)]
		for i := 0; i+2 < len(row); i += 3 {
			blue, green, red = blue+int(row[i]), green+int(row[i+1]), red+int(row[i+2])
		}
	}
	n := area.Dx() * area.Dy()
	rgba[0], rgba[1], rgba[2], rgba[3] = byte((red+n/2)/n), byte((green+n/2)/n), byte((blue+n/2)/n), 0xff
}
