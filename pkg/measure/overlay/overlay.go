// Package overlay draws a result over its photo: the target's region with the
// rings, the centre, the mark and the offset, and the numbers in words below.
//
// Every line is light on a dark casing, so that it is legible on any ground,
// and differs from the others by its dashes or shape: the picture must also
// work on a grey print and for people who do not distinguish the colours.
package overlay

import (
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"os"

	"burngauge.dev/burngauge/pkg/measure"
	"burngauge.dev/burngauge/pkg/report"
)

// jpegQuality shows no blocks around thin lines at about 400 kB a picture.
const jpegQuality = 88

// ErrNoPhoto says that a result has no picture to draw on: it was unreadable.
var ErrNoPhoto = errors.New("no picture to draw on: the photo could not be read")

// Write draws res over its photo into the JPEG file at path, upright as the
// photo is. Without a target the whole photo is shown; without a photo nothing
// is written and the error is ErrNoPhoto. Lengths are stated in the units.
func Write(path string, res measure.Result, units report.Units) error {
	picture, err := compose(res, units)
	if err != nil {
		return fmt.Errorf("drawing an overlay: %w", err)
	}
	file, err := os.Create(path)
	if err != nil {
		return fmt.Errorf("writing an overlay: %w", err)
	}
	err = jpeg.Encode(file, picture.img, &jpeg.Options{Quality: jpegQuality})
	if err = errors.Join(err, file.Close()); err != nil {
		return fmt.Errorf("writing an overlay: %w", err)
	}
	return nil
}

// drawing is the finished overlay: the picture above, the caption below it.
type drawing struct {
	img     *image.RGBA
	picture image.Rectangle // where the photo is shown
	panel   image.Rectangle // where the caption stands
	runs    []run           // the caption's texts as they were placed
	view    view
}

// compose makes the overlay in memory.
func compose(res measure.Result, units report.Units) (*drawing, error) {
	if res.Photo == nil || !whole(res.Photo.Image) {
		return nil, ErrNoPhoto
	}
	s := newScene(res, units)
	v := newView(res.Photo.Image, s.region())
	width := max(v.width, leastWidth)
	unit := float64(max(width, v.height)) / fullSide
	text := newPanel(float64(width)/fullSide, width, s.caption(v))

	d := &drawing{view: v, runs: text.runs}
	d.img = image.NewRGBA(image.Rect(0, 0, width, v.height+text.height))
	d.picture = image.Rect(0, 0, v.width, v.height).Add(image.Pt((width-v.width)/2, 0))
	d.panel = image.Rect(0, v.height, width, v.height+text.height)
	fillRect(d.img, image.Rect(0, 0, width, v.height), backdrop)
	v.paint(d.img, d.picture, res.Photo.Image)
	s.paint(&canvas{d.img, d.picture, unit}, v)
	text.paint(&canvas{d.img, d.panel, text.unit})
	return d, nil
}
