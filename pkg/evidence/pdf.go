package evidence

import (
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"burngauge.dev/burngauge/pkg/printing"
	"burngauge.dev/burngauge/pkg/typeface"
)

// Short names for what all sheets have in common.
const (
	margin   = printing.Margin
	footTall = printing.FootTall
	leading  = printing.Leading
)

// Font sizes, mm: 17, 11, 9, 8 and 7 points.
const (
	titleSize = 6.0
	headSize  = 3.9
	bodySize  = 3.2
	tableSize = 2.8
	smallSize = 2.5
)

// paper is a PDF being written from top to bottom.
type paper struct {
	doc        *fpdf.Fpdf
	wide, tall float64
	y          float64 // where the next thing starts
	foot       string
	pages      int       // how many there will be, 0: not known yet
	tight      tightness // how close things stand on the first page
}

// WritePDF writes the sheet with real text and embedded fonts. The same Sheet
// gives the same bytes. What the fonts lack, such as the scripts of East Asia,
// is shown as a question mark. An *InputError says what the sheet cannot be
// made from; nothing is written then.
func (s Sheet) WritePDF(w io.Writer) error {
	if err := s.check(); err != nil {
		return err
	}
	c := newContent(s)
	t := s.firstPage(c)
	draft, err := s.layOut(c, 0, t) // counts the pages, which each page tells
	if err != nil {
		return err
	}
	final, err := s.layOut(c, draft.doc.PageCount(), t)
	if err != nil {
		return err
	}
	return printing.WritePDF(w, final.doc)
}

// layOut puts the content on pages.
func (s Sheet) layOut(c *content, pages int, t tightness) (*paper, error) {
	p := s.newPaper(c, pages)
	p.tight = t
	p.front(c)
	if c.LongNotes {
		p.heading("Notes", bodySize*leading)
		for _, line := range c.Notes {
			p.flow(line, bodySize)
		}
	}
	if err := p.overlays(c.Pictures); err != nil {
		return nil, err
	}
	if t.apart {
		p.remarks(c.Numbers)
	}
	p.titled("The pointer against the beam", "Where the red dot lies, and where the beam lies as seen from it.", c.Pointer)
	p.titled("Further photos of the same stations", "Measured, but not taken into the verdict.", c.Others)
	p.titled("Photos that belong to no station", "", c.Unassigned)
	p.back(c)
	p.footer()
	if err := p.doc.Error(); err != nil {
		return nil, fmt.Errorf("making the PDF sheet: %w", err)
	}
	return p, nil
}

// newPaper is the first page, empty.
func (s Sheet) newPaper(c *content, pages int) *paper {
	size, ok := printing.Paper(s.Paper)
	if !ok {
		size, _ = printing.Paper(printing.A4)
	}
	doc := printing.NewPDF(size, c.Foot, s.date())
	doc.SetLineJoinStyle("miter")
	doc.AddPage()
	return &paper{doc: doc, wide: size.Wide, tall: size.Tall, y: margin, foot: c.Foot, pages: pages}
}

// date is the PDF's: the library would take the clock for a time that is zero.
func (s Sheet) date() time.Time {
	if !s.Made.IsZero() {
		return s.Made
	}
	if created, err := time.Parse(time.RFC3339, s.Report.Created); err == nil {
		return created
	}
	return time.Unix(0, 0).UTC()
}

// width is between the margins; bottom is where the text must end.
func (p *paper) width() float64  { return p.wide - 2*margin }
func (p *paper) bottom() float64 { return p.tall - margin - footTall }

// need starts a new page when less than tall mm is left on this one, and says
// whether it did.
func (p *paper) need(tall float64) bool {
	if p.y+tall <= p.bottom() || p.y <= margin {
		return false
	}
	p.footer()
	p.doc.AddPage()
	p.y = margin
	return true
}

// footer closes a page.
func (p *paper) footer() {
	y := p.tall - margin
	p.rule(y-smallSize*1.6, paleInk)
	number := fmt.Sprintf("page %d", p.doc.PageNo())
	if p.pages > 0 {
		number += fmt.Sprintf(" of %d", p.pages)
	}
	room := p.width() - typeface.Regular().Width(number, smallSize) - 6
	lines := typeface.Regular().Wrap(typeface.Regular().Drawable(p.foot), smallSize, room)
	words := ""
	if len(lines) > 0 {
		words = lines[0]
	}
	if len(lines) > 1 {
		words += " …"
	}
	p.words(text{words: words, x: margin, y: y, size: smallSize, ink: muted})
	p.words(text{words: number, x: margin + p.width() - typeface.Regular().Width(number, smallSize), y: y, size: smallSize, ink: muted})
}

// rule is a thin line across.
func (p *paper) rule(y float64, c colour) {
	p.pen(c, 0.2)
	p.doc.Line(margin, y, margin+p.width(), y)
}

func (p *paper) pen(c colour, width float64) {
	p.doc.SetDrawColor(int(c.R), int(c.G), int(c.B))
	p.doc.SetLineWidth(width)
}
