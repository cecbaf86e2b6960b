package evidence

import (
	"io"
	"time"

	"burngauge.dev/burngauge/pkg/drawing"
)

const margin = drawing.Margin

// Font sizes, mm: 17, 11, 9, 8 and 7 points.
const (
	titleSize = 6.0
	headSize  = 3.9
	bodySize  = 3.2
	tableSize = 2.8
	smallSize = 2.5
)

// The sheet's fonts.
var (
	titleFont = drawing.Font{Size: titleSize, Bold: true, Ink: ink}
	headFont  = drawing.Font{Size: headSize, Bold: true, Ink: ink}
	bodyFont  = drawing.Font{Size: bodySize, Ink: ink}
	labelFont = drawing.Font{Size: bodySize, Ink: muted}
	tableFont = drawing.Font{Size: tableSize, Ink: ink}
	smallFont = drawing.Font{Size: smallSize, Ink: ink}
	quietFont = drawing.Font{Size: smallSize, Ink: muted}
)

// bold is a font's heavy weight.
func bold(f drawing.Font) drawing.Font {
	f.Bold = true
	return f
}

// layout is a sheet being put on pages from top to bottom.
type layout struct {
	*drawing.Flow
	tight tightness // how close things stand on the first page
}

// WritePDF writes the sheet with real text and embedded fonts. The same Sheet
// gives the same bytes. What the fonts lack, such as the scripts of East Asia,
// is shown as a question mark. An *InputError says what the sheet cannot be
// made from; nothing is written then.
func (s Sheet) WritePDF(w io.Writer) error {
	if err := s.check(); err != nil {
		return err
	}
	c := newWording(s)
	paper := drawing.PaperOr(s.Paper)
	doc, err := layOut(c, paper, firstPage(c, paper))
	if err != nil {
		return err
	}
	doc.Made = s.date()
	return drawing.WritePDF(w, doc)
}

// layOut puts the sheet on pages of a paper.
func layOut(c *wording, paper drawing.Size, t tightness) (drawing.Document, error) {
	l := layout{drawing.NewFlow(paper), t}
	l.front(c)
	if c.LongNotes {
		l.Heading(headFont, "Notes", bodyFont.Line())
		for _, line := range c.Notes {
			l.across(bodyFont, line)
		}
	}
	if err := l.overlays(c.Pictures); err != nil {
		return drawing.Document{}, err
	}
	if t.apart {
		l.remarks(c.Numbers)
	}
	l.titled("The pointer against the beam", "Where the red dot lies, and where the beam lies as seen from it.", c.Pointer)
	l.titled("Further photos of the same stations", "Measured, but not taken into the verdict.", c.Others)
	l.titled("Photos that belong to no station", "", c.Unassigned)
	l.back(c)
	return l.Document(c.Foot, c.Foot), nil
}

// across writes a paragraph from margin to margin, a third of a line above the next.
func (l layout) across(f drawing.Font, words string) {
	l.Paragraph(f, words, margin, l.Width())
	l.Y += 0.35 * f.Size
}

// date is the PDF's: that of the sheet, else the report's, so that the same sheet
// gives the same bytes.
func (s Sheet) date() time.Time {
	if !s.Made.IsZero() {
		return s.Made
	}
	if created, err := time.Parse(time.RFC3339, s.Report.Created); err == nil {
		return created
	}
	return time.Unix(0, 0).UTC()
}
