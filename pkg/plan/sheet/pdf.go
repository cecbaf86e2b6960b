package sheet

import (
	"io"

	"codeberg.org/go-pdf/fpdf"

	"burngauge.dev/burngauge/pkg/printing"
)

// WritePDF writes the sheet as pages, with its fonts embedded. The same Sheet
// gives the same bytes. Nothing is written when there is an *InputError.
func (s Sheet) WritePDF(w io.Writer) error {
	if err := s.check(); err != nil {
		return err
	}
	l := s.layOut(newContent(s), false)
	doc := printing.NewPDF(printing.Size{Wide: l.wide, Tall: l.tall}, title, printing.Made)
	for _, page := range l.pages {
		doc.AddPage()
		for _, sh := range page {
			drawPDF(doc, sh)
		}
	}
	return printing.WritePDF(w, doc)
}

// drawPDF puts one shape on the page.
func drawPDF(doc *fpdf.Fpdf, s shape) {
	switch s := s.(type) {
	case *path:
		pathPDF(doc, s)
	case *text:
		s.PDF(doc)
	}
}

// pathPDF fills and strokes.
func pathPDF(doc *fpdf.Fpdf, p *path) {
	doc.SetLineWidth(p.width)
	doc.SetDrawColor(int(p.ink), int(p.ink), int(p.ink))
	doc.SetDashPattern(p.dash, 0)
	style := "D"
	if p.fill != nil {
		doc.SetFillColor(int(*p.fill), int(*p.fill), int(*p.fill))
		style = "F"
		if p.width > 0 {
			style = "DF"
		}
	}
	doc.MoveTo(p.points[0].x, p.points[0].y)
	for _, pt := range p.points[1:] {
		doc.LineTo(pt.x, pt.y)
	}
	if p.closed {
		doc.ClosePath()
	}
	doc.DrawPath(style)
	doc.SetDashPattern(nil, 0)
}
