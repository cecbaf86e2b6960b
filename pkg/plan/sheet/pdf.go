package sheet

import (
	"bytes"
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"burngauge.dev/burngauge/pkg/typeface"
)

// made is the date that every PDF carries: the same plan gives the same bytes.
var made = time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)

// family is the embedded font's name inside the PDF.
const family = "go"

// WritePDF writes the sheet as pages, with its fonts embedded. The same Sheet
// gives the same bytes. Nothing is written when there is an *InputError.
func (s Sheet) WritePDF(w io.Writer) error {
	if err := s.check(); err != nil {
		return err
	}
	l := s.layOut(newContent(s), false)
	doc := newDocument(l.wide, l.tall)
	for _, page := range l.pages {
		doc.AddPage()
		for _, sh := range page {
			drawPDF(doc, sh)
		}
	}
	var whole bytes.Buffer
	if err := doc.Output(&whole); err != nil {
		return fmt.Errorf("making the PDF: %w", err)
	}
	if _, err := w.Write(whole.Bytes()); err != nil {
		return fmt.Errorf("writing the PDF: %w", err)
	}
	return nil
}

// newDocument has no page yet and no margins of its own.
func newDocument(wide, tall float64) *fpdf.Fpdf {
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: wide, Ht: tall}})
	doc.SetCreationDate(made)
	doc.SetModificationDate(made)
	doc.SetCatalogSort(true)
	doc.SetTitle("Screw plan", true)
	doc.SetLang("en")
	doc.SetAutoPageBreak(false, 0)
	doc.SetLineJoinStyle("round")
	doc.AddUTF8FontFromBytes(family, "", typeface.Regular().Data())
	doc.AddUTF8FontFromBytes(family, "B", typeface.Bold().Data())
	return doc
}

// drawPDF puts one shape on the page.
func drawPDF(doc *fpdf.Fpdf, s shape) {
	switch s := s.(type) {
	case *path:
		pathPDF(doc, s)
	case *text:
		style := ""
		if s.bold {
			style = "B"
		}
		doc.SetFont(family, style, 0)
		doc.SetFontUnitSize(s.size)
		doc.SetTextColor(int(s.ink), int(s.ink), int(s.ink))
		doc.Text(s.x, s.y, drawable(s.words, s.bold))
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
