package evidence

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html/template"
	"image"
	_ "image/jpeg" // the two kinds of file that an overlay is
	"image/png"
)

// kind is the picture's format, "jpeg" or "png", and its size in px.
func (p Picture) kind() (format string, size image.Config, err error) {
	size, format, err = image.DecodeConfig(bytes.NewReader(p.Data))
	if err == nil && (size.Width < 1 || size.Height < 1) {
		err = fmt.Errorf("it has no pixels")
	}
	return format, size, err
}

// check refuses a picture that neither HTML nor PDF could show.
func (p Picture) check() error {
	if _, _, err := p.kind(); err != nil {
		return &InputError{Text: fmt.Sprintf("the overlay of %q is not a JPEG or PNG that can be shown: draw it anew", p.File), Err: err}
	}
	return nil
}

// URI is the picture inside an attribute. The type is our own reading of
// the bytes and the rest is base64, so that nothing of it needs escaping.
func (p pictureView) URI() template.URL {
	format, _, err := p.kind()
	if err != nil {
		return ""
	}
	return template.URL("data:image/" + format + ";base64," + base64.StdEncoding.EncodeToString(p.Data))
}

// forPDF is the picture as PDF can hold it: a JPEG as it is, a PNG with 8 bits
// a channel and without interlace, which the PDF writer does not read.
func (p Picture) forPDF() (format string, data []byte, err error) {
	format, _, err = p.kind()
	if err != nil || format == "jpeg" {
		return format, p.Data, err
	}
	decoded, err := png.Decode(bytes.NewReader(p.Data))
	if err != nil {
		return "", nil, fmt.Errorf("the overlay of %q: %w", p.File, err)
	}
	plain := image.NewNRGBA(decoded.Bounds())
	for y := plain.Rect.Min.Y; y < plain.Rect.Max.Y; y++ {
		for x := plain.Rect.Min.X; x < plain.Rect.Max.X; x++ {
			plain.Set(x, y, decoded.At(x, y))
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, plain); err != nil {
		return "", nil, fmt.Errorf("the overlay of %q: %w", p.File, err)
	}
	return format, b.Bytes(), nil
}
