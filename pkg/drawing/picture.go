package drawing

import (
	"bytes"
	"encoding/base64"
	"errors"
	"fmt"
	"image"
	_ "image/jpeg" // one of the two kinds of file that a Picture is
	"image/png"
)

// Photo is a JPEG or PNG file that both writers and a browser can show.
type Photo struct {
	format     string // "jpeg" or "png"
	data       []byte
	wide, tall int // px
}

// NewPhoto looks at a file's first bytes. An error says that it is neither a JPEG
// nor a PNG, or has no pixels.
func NewPhoto(data []byte) (Photo, error) {
	size, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err == nil && (size.Width < 1 || size.Height < 1) {
		err = errors.New("it has no pixels")
	}
	if err != nil {
		return Photo{}, err
	}
	return Photo{format, data, size.Width, size.Height}, nil
}

// URI is the photo as a data URI. The type is this package's own reading of the
// bytes and the rest is base64, so that nothing of it needs escaping.
func (p Photo) URI() string {
	return "data:image/" + p.format + ";base64," + base64.StdEncoding.EncodeToString(p.data)
}

// Fit is the photo as large as it goes into a place whose upper left corner is
// (x, y), in its own shape. An error says that its pixels cannot be read.
func (p Photo) Fit(x, y, wide, tall float64) (Picture, error) {
	plain, err := p.plain()
	scale := min(wide/float64(p.wide), tall/float64(p.tall))
	return Picture{X: x, Y: y, Wide: float64(p.wide) * scale, Tall: float64(p.tall) * scale, photo: plain}, err
}

// plain is the photo as PDF can hold it: a JPEG as it is, a PNG with 8 bits a
// channel and without interlace.
func (p Photo) plain() (Photo, error) {
	if p.format == "jpeg" {
		return p, nil
	}
	decoded, err := png.Decode(bytes.NewReader(p.data))
	if err != nil {
		return Photo{}, fmt.Errorf("reading the PNG: %w", err)
	}
	plain := image.NewNRGBA(decoded.Bounds())
	for y := plain.Rect.Min.Y; y < plain.Rect.Max.Y; y++ {
		for x := plain.Rect.Min.X; x < plain.Rect.Max.X; x++ {
			plain.Set(x, y, decoded.At(x, y))
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, plain); err != nil {
		return Photo{}, fmt.Errorf("writing the PNG: %w", err)
	}
	p.data = b.Bytes()
	return p, nil
}

// Picture is a photo on a page, its upper left corner at (X, Y). Photo.Fit makes it.
type Picture struct {
	X, Y, Wide, Tall float64
	photo            Photo
}

func (p Picture) placed(scale, x, y float64) Shape {
	p.X, p.Y, p.Wide, p.Tall = x+scale*p.X, y+scale*p.Y, scale*p.Wide, scale*p.Tall
	return p
}
