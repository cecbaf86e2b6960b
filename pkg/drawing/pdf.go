package drawing

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io"
	"math"

	"codeberg.org/go-pdf/fpdf"

	"burngauge.dev/burngauge/pkg/typeface"
)

// family is the embedded font's name inside a PDF; style "B" is bold.
const family = "go"

// WritePDF writes the document, true to size and with its fonts embedded; the same
// document gives the same bytes. It is written whole: nothing when it cannot be made.
func WritePDF(w io.Writer, d Document) error {
	doc := newPDF(d)
	for _, page := range d.Pages {
		doc.AddPage()
		for _, s := range page {
			shapePDF(doc, s)
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

// newPDF is a document in mm, without a page and without margins of its own.
func newPDF(d Document) *fpdf.Fpdf {
	made := d.Made
	if made.IsZero() {
		made = fixedDate // the library would take the clock
	}
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: d.Paper.Wide, Ht: d.Paper.Tall}})
	doc.SetCreationDate(made)
	doc.SetModificationDate(made)
	doc.SetCatalogSort(true)
	doc.SetTitle(d.Title, true)
	doc.SetLang("en")
	doc.SetAutoPageBreak(false, 0)
	doc.SetLineJoinStyle("round")
	doc.AddUTF8FontFromBytes(family, "", typeface.Regular().Data())
	doc.AddUTF8FontFromBytes(family, "B", typeface.Bold().Data())
	return doc
}

// shapePDF draws one shape.
func shapePDF(doc *fpdf.Fpdf, s Shape) {
	switch s := s.(type) {
	case Ellipse:
		paint(doc, s.Style, func(style string) { ellipsePDF(doc, s, style) })
	case Rectangle:
		paint(doc, s.Style, func(style string) { doc.Rect(s.X, s.Y, s.Wide, s.Tall, style) })
	case Path:
		paint(doc, s.Style, func(style string) { pathPDF(doc, s, style) })
	case Text:
		textPDF(doc, s)
	case Picture:
		picturePDF(doc, s)
	default:
		panic(fmt.Sprintf("drawing: no PDF for %T", s)) // a programmer's error
	}
}

// paint sets pen and brush and draws with the style's letters: F to fill, D to stroke.
func paint(doc *fpdf.Fpdf, s Style, draw func(style string)) {
	style := ""
	if s.Fill != nil {
		doc.SetFillColor(int(s.Fill.R), int(s.Fill.G), int(s.Fill.B))
		style = "F"
	}
	if s.Width > 0 {
		doc.SetDrawColor(int(s.Stroke.R), int(s.Stroke.G), int(s.Stroke.B))
		doc.SetLineWidth(s.Width)
		doc.SetDashPattern(s.Dash, 0)
		style += "D"
	}
	if style != "" {
		draw(style)
	}
}

func pathPDF(doc *fpdf.Fpdf, p Path, style string) {
	doc.MoveTo(p.Points[0].X, p.Points[0].Y)
	for _, q := range p.Points[1:] {
		doc.LineTo(q.X, q.Y)
	}
	if p.Closed {
		doc.ClosePath()
	}
	doc.DrawPath(style)
}

// ellipsePDF draws eight cubic arcs. The library's own ellipse falls short by 0.3 %
// of the radius between its six arcs, 0.07 mm on a ring of 24.
//
// Of an arc over the angle a of the unit circle, the control points lie k along the
// tangents at its ends. Seen along the bisector, with h = a/2, the cubic's middle
// (P0 + 3 P1 + 3 P2 + P3)/8 lies at cos h + 3/4 k sin h. It lies on the circle when
//
//	k = 4/3 (1 - cos h) / sin h = 4/3 tan(a/4)
//
// Elsewhere the cubic is then outside the circle by at most about
// 2/27 sin^6(a/4) / cos^2(a/4), which for eight arcs is 4e-6 of the radius. The ellipse
// is that circle, stretched by RX and RY and turned.
func ellipsePDF(doc *fpdf.Fpdf, e Ellipse, style string) {
	const arcs = 8
	angle := 2 * math.Pi / arcs
	pull := 4.0 / 3 * math.Tan(angle/4)
	turnSin, turnCos := math.Sincos(e.Turn * math.Pi / 180)
	place := func(x, y float64) (float64, float64) { // from the unit circle to the page
		x, y = e.RX*x, e.RY*y
		return e.X + x*turnCos - y*turnSin, e.Y + x*turnSin + y*turnCos
	}
	at := func(i int) (cos, sin float64) {
		sin, cos = math.Sincos(float64(i%arcs) * angle) // ends exactly where it began: no spur at the join
		return cos, sin
	}
	fromX, fromY := at(0)
	doc.MoveTo(place(fromX, fromY))
	for i := 1; i <= arcs; i++ {
		toX, toY := at(i)
		ax, ay := place(fromX-pull*fromY, fromY+pull*fromX)
		bx, by := place(toX+pull*toY, toY-pull*toX)
		x, y := place(toX, toY)
		doc.CurveBezierCubicTo(ax, ay, bx, by, x, y)
		fromX, fromY = toX, toY
	}
	doc.ClosePath()
	doc.DrawPath(style)
}

// textPDF draws a line of words. What the fonts lack is shown as a question mark.
func textPDF(doc *fpdf.Fpdf, t Text) {
	style := ""
	if t.Bold {
		style = "B"
	}
	doc.SetFont(family, style, 0)
	doc.SetFontUnitSize(t.Size)
	doc.SetTextColor(int(t.Ink.R), int(t.Ink.G), int(t.Ink.B))
	doc.Text(t.X, t.Y, typeface.Of(t.Bold).Drawable(t.Words))
}

// picturePDF draws a picture; one that is drawn twice stands in the file once.
func picturePDF(doc *fpdf.Fpdf, p Picture) {
	name := fmt.Sprintf("%x", sha256.Sum256(p.photo.data))
	doc.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: p.photo.format}, bytes.NewReader(p.photo.data))
	doc.ImageOptions(name, p.X, p.Y, p.Wide, p.Tall, false, fpdf.ImageOptions{}, 0, "")
}
