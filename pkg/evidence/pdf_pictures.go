package evidence

import (
	"fmt"
	"slices"

	"burngauge.dev/burngauge/pkg/drawing"
)

// Overlays stand in two rows on a page, two in each or, when there are many,
// three; mm.
const (
	pictureGap  = 6.0
	pictureTall = 86.0 // most that a picture takes of a page, so that two rows fit
	manyOverlay = 4    // more than a page holds in rows of two: three make it the five stations' one page
)

// overlays draws the pictures in rows, beginning on a new page.
func (l layout) overlays(list []pictureView) error {
	if len(list) == 0 {
		return nil
	}
	l.NewPage()
	l.Heading(headFont, "The photos, with what was measured", 100)
	columns := 2
	if len(list) > manyOverlay {
		columns = 3
	}
	for some := range slices.Chunk(list, columns) {
		if err := l.figures(some, columns); err != nil {
			return err
		}
	}
	return nil
}

// figures is one row of overlays: as wide as columns of them with their gaps fill the
// page.
func (l layout) figures(list []pictureView, columns int) error {
	wide := (l.Width()+pictureGap)/float64(columns) - pictureGap
	figures := make([]figure, len(list))
	tall := 0.0
	for i, v := range list {
		f, err := newFigure(v, wide)
		if err != nil {
			return err
		}
		figures[i] = f
		tall = max(tall, f.tall())
	}
	l.Need(tall)
	for i, f := range figures {
		l.Put(f.at(margin+float64(i)*(wide+pictureGap), l.Y)...)
	}
	l.Y += tall + 3
	return nil
}

// figure is an overlay with its words, ready to be placed.
type figure struct {
	picture drawing.Picture
	sign    drawing.Figure
	heading drawing.Block
	number  drawing.Block // after the sign
	further []drawing.Block
}

// newFigure reads the picture and breaks its words to a width.
func newFigure(v pictureView, wide float64) (figure, error) {
	picture, err := v.photo.Fit(0, 0, wide, pictureTall)
	if err != nil {
		return figure{}, &InputError{Text: fmt.Sprintf("the overlay of %q cannot be shown: draw it again", v.File), Err: err}
	}
	f := figure{picture: picture, sign: v.Badge,
		heading: bold(bodyFont).Block(v.Heading, wide), number: tableFont.Block(v.Number, wide-tableFont.SignRoom())}
	for _, words := range v.Remarks {
		f.further = append(f.further, smallFont.Block(words, wide))
	}
	for _, fact := range v.Facts {
		f.further = append(f.further, quietFont.Block(fact.Label+" "+fact.Text, wide))
	}
	return f, nil
}

// underPicture is the blank below a picture, mm.
const underPicture = 1.0

func (f figure) tall() float64 {
	tall := f.picture.Tall + underPicture + f.heading.Tall() + f.number.Tall()
	for _, b := range f.further {
		tall += b.Tall()
	}
	return tall
}

// at is the figure with its upper left corner at (x, y).
func (f figure) at(x, y float64) []drawing.Shape {
	f.picture.X, f.picture.Y = x, y
	out := []drawing.Shape{f.picture}
	y += f.picture.Tall + underPicture
	out = append(out, f.heading.At(x, y)...)
	y += f.heading.Tall()
	sign, room := tableFont.Sign(f.sign, x, y)
	out = append(append(out, sign...), f.number.At(x+room, y)...)
	y += f.number.Tall()
	for _, b := range f.further {
		out = append(out, b.At(x, y)...)
		y += b.Tall()
	}
	return out
}
