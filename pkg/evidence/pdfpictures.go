package evidence

import (
	"bytes"
	"fmt"

	"codeberg.org/go-pdf/fpdf"
)

// Overlays stand in two rows on a page, two in each or, when there are many,
// three; mm.
const (
	pictureGap  = 6.0
	pictureTall = 86.0 // most that a picture takes of a page, so that two rows fit
	manyOverlay = 4    // more than a page holds in rows of two: three make it the five stations' one page
)

// overlays draws the pictures in rows, beginning on a new page.
func (p *paper) overlays(list []pictureView) error {
	if len(list) == 0 {
		return nil
	}
	p.need(p.tall)
	p.heading("The photos, with what was measured", 100)
	columns := 2
	if len(list) > manyOverlay {
		columns = 3
	}
	for i := 0; i < len(list); i += columns {
		if err := p.figures(list[i:min(i+columns, len(list))], columns); err != nil {
			return err
		}
	}
	return nil
}

// figures is one row of overlays.
func (p *paper) figures(list []pictureView, columns int) error {
	wide := (p.width()+pictureGap)/float64(columns) - pictureGap
	figures := make([]figure, len(list))
	tall := 0.0
	for i, v := range list {
		f, err := p.figure(v, margin+float64(i)*(wide+pictureGap), wide)
		if err != nil {
			return err
		}
		figures[i] = f
		tall = max(tall, f.tall())
	}
	p.need(tall)
	for _, f := range figures {
		p.putFigure(f)
	}
	p.y += tall + 3
	return nil
}

// figure is an overlay, measured and ready to draw.
type figure struct {
	name   string // of the image inside the PDF
	x      float64
	size   fpdf.SizeType
	badge  drawing
	blocks []block
}

func (f figure) tall() float64 {
	tall := f.size.Ht + 1
	for _, b := range f.blocks {
		tall += b.tall()
	}
	return tall
}

// figure loads the picture and breaks its words.
func (p *paper) figure(v pictureView, x, wide float64) (figure, error) {
	format, data, err := v.forPDF()
	if err != nil {
		return figure{}, &InputError{Text: fmt.Sprintf("the overlay of %q cannot be shown: draw it anew", v.File), Err: err}
	}
	name := fmt.Sprintf("%s %s %s", v.Station, v.File, v.Mark)
	info := p.doc.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: format}, bytes.NewReader(data))
	if err := p.doc.Error(); err != nil {
		return figure{}, &InputError{Text: fmt.Sprintf("the overlay of %q cannot be shown: draw it anew", v.File), Err: err}
	}
	f := figure{name: name, x: x, badge: v.Badge,
		size: fit(fpdf.SizeType{Wd: info.Width(), Ht: info.Height()}, wide, pictureTall)}
	f.blocks = []block{wrapped(text{words: v.Heading, size: bodySize, bold: true, ink: ink, x: x}, wide),
		wrapped(text{words: v.Number, size: tableSize, ink: ink, x: x + 1.4*tableSize}, wide-1.4*tableSize)}
	for _, words := range v.Remarks {
		f.blocks = append(f.blocks, wrapped(text{words: words, size: smallSize, ink: ink, x: x}, wide))
	}
	for _, fact := range v.Facts {
		f.blocks = append(f.blocks, wrapped(text{words: fact.Label + " " + fact.Text, size: smallSize, ink: muted, x: x}, wide))
	}
	return f, nil
}

// putFigure draws it with its upper edge at p.y.
func (p *paper) putFigure(f figure) {
	p.doc.ImageOptions(f.name, f.x, p.y, f.size.Wd, f.size.Ht, false, fpdf.ImageOptions{}, 0, "")
	y := p.y + f.size.Ht + 1
	for i, b := range f.blocks {
		if i == 1 {
			p.draw(f.badge, frame{f.x, y + 0.12*tableSize, 1.05 * tableSize})
		}
		p.put(b, y)
		y += b.tall()
	}
}
