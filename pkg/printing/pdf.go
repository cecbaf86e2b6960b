package printing

import (
	"bytes"
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"burngauge.dev/burngauge/pkg/typeface"
)

// Family is the embedded font's name inside a PDF; style "B" is bold.
const Family = "go"

// Made is the date of PDFs that carry none of their own: the same content then
// gives the same bytes.
var Made = time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)

// NewPDF is a document in mm, without a page and without margins of its own,
// with the fonts embedded.
func NewPDF(size Size, title string, made time.Time) *fpdf.Fpdf {
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: size.Wide, Ht: size.Tall}})
	doc.SetCreationDate(made)
	doc.SetModificationDate(made)
	doc.SetCatalogSort(true)
	doc.SetTitle(title, true)
	doc.SetLang("en")
	doc.SetAutoPageBreak(false, 0)
	doc.SetLineJoinStyle("round")
	doc.AddUTF8FontFromBytes(Family, "", typeface.Regular().Data())
	doc.AddUTF8FontFromBytes(Family, "B", typeface.Bold().Data())
	return doc
}

// WritePDF writes the document whole: nothing when it cannot be made.
func WritePDF(w io.Writer, doc *fpdf.Fpdf) error {
	var whole bytes.Buffer
	if err := doc.Output(&whole); err != nil {
		return fmt.Errorf("making the PDF: %w", err)
	}
	if _, err := w.Write(whole.Bytes()); err != nil {
		return fmt.Errorf("writing the PDF: %w", err)
	}
	return nil
}

// Text is one line of a sheet: X, Y is where its base line begins.
type Text struct {
	X, Y, Size float64 // mm
	Bold       bool
	Ink        Grey
	Words      string
}

// Width of the words in mm.
func (t Text) Width() float64 { return typeface.Of(t.Bold).Width(t.Words, t.Size) }

// PDF puts the text on the page. What the fonts lack is shown as a question
// mark.
func (t Text) PDF(doc *fpdf.Fpdf) {
	style := ""
	if t.Bold {
		style = "B"
	}
	doc.SetFont(Family, style, 0)
	doc.SetFontUnitSize(t.Size)
	doc.SetTextColor(int(t.Ink), int(t.Ink), int(t.Ink))
	doc.Text(t.X, t.Y, typeface.Of(t.Bold).Drawable(t.Words))
}
