package drawing

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// families are tried from the left by whatever shows an SVG: the font that the
// text was measured by, then ones about as wide.
const families = "Go, Helvetica, Arial, 'Liberation Sans', sans-serif"

// WriteSVG writes a document of one page: width and height in mm, one unit of the
// viewBox a millimetre. Text is text. A document of more pages is an error.
func WriteSVG(w io.Writer, d Document) error {
	if len(d.Pages) != 1 {
		return errors.New("making the SVG: it holds one page")
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %[1]s %[2]s" font-family="%s" fill="none" stroke-linejoin="round">
<title>%s</title>
<rect width="100%%" height="100%%" fill="#fff"/>
`, number(d.Paper.Wide), number(d.Paper.Tall), families, escaped(d.Title))
	for _, s := range d.Pages[0] {
		b.WriteString(element(s) + "\n")
	}
	b.WriteString("</svg>\n")
	if _, err := io.WriteString(w, b.String()); err != nil {
		return fmt.Errorf("writing the SVG: %w", err)
	}
	return nil
}

// SVG is the figure as an element for a page of HTML, as large as its class makes
// it. A title is read aloud; without one the figure is decoration.
func (f Figure) SVG(class string) string {
	role := `aria-hidden="true"`
	if f.Title != "" {
		role = `role="img" aria-label="` + escaped(f.Title) + `"`
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="%s" xmlns="http://www.w3.org/2000/svg" viewBox="%s %s %s %s" fill="none" stroke-linejoin="round" %s>`,
		escaped(class), number(f.Left), number(f.Top), number(f.Wide), number(f.Tall), role)
	for _, s := range f.Shapes {
		b.WriteString(element(s))
	}
	return b.String() + "</svg>"
}

// element is one shape's.
func element(s Shape) string {
	switch s := s.(type) {
	case Ellipse:
		return ellipseElement(s)
	case Rectangle:
		return fmt.Sprintf(`<rect x="%s" y="%s" width="%s" height="%s"%s/>`, number(s.X), number(s.Y), number(s.Wide), number(s.Tall), s.Style.attributes())
	case Path:
		return pathElement(s)
	case Text:
		return textElement(s)
	case Picture:
		return fmt.Sprintf(`<image x="%s" y="%s" width="%s" height="%s" href="%s"/>`,
			number(s.X), number(s.Y), number(s.Wide), number(s.Tall), s.photo.URI())
	}
	panic(fmt.Sprintf("drawing: no SVG for %T", s)) // a programmer's error
}

func ellipseElement(e Ellipse) string {
	if e.RX == e.RY {
		return fmt.Sprintf(`<circle cx="%s" cy="%s" r="%s"%s/>`, number(e.X), number(e.Y), number(e.RX), e.Style.attributes())
	}
	x, y := number(e.X), number(e.Y)
	return fmt.Sprintf(`<ellipse cx="%s" cy="%s" rx="%s" ry="%s" transform="rotate(%s %s %s)"%s/>`,
		x, y, number(e.RX), number(e.RY), number(e.Turn), x, y, e.Style.attributes())
}

func pathElement(p Path) string {
	var d strings.Builder
	for i, q := range p.Points {
		letter := "L"
		if i == 0 {
			letter = "M"
		}
		d.WriteString(letter + number(q.X) + " " + number(q.Y))
	}
	if p.Closed {
		d.WriteString("Z")
	}
	return `<path d="` + d.String() + `"` + p.Style.attributes() + `/>`
}

// textElement states the text's width, so that another font does not run over.
func textElement(t Text) string {
	weight := ""
	if t.Bold {
		weight = ` font-weight="bold"`
	}
	return fmt.Sprintf(`<text x="%s" y="%s" font-size="%s"%s fill="%s" textLength="%s" lengthAdjust="spacingAndGlyphs">%s</text>`,
		number(t.X), number(t.Y), number(t.Size), weight, t.Ink.Hex(), number(t.Width()), escaped(t.Words))
}

// attributes of a style; a new one has neither fill nor stroke.
func (s Style) attributes() string {
	out := ""
	if s.Fill != nil {
		out += ` fill="` + s.Fill.Hex() + `"`
	}
	if s.Width > 0 {
		out += ` stroke="` + s.Stroke.Hex() + `" stroke-width="` + number(s.Width) + `"` + dashes(s.Dash)
	}
	return out
}

// dashes is the attribute of a dashed stroke, "" of one without.
func dashes(lengths []float64) string {
	if len(lengths) == 0 {
		return ""
	}
	out := make([]string, len(lengths))
	for i, l := range lengths {
		out[i] = number(l)
	}
	return ` stroke-dasharray="` + strings.Join(out, " ") + `"`
}

// number writes mm to a tenth of a micrometre, without needless zeros.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 4, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// escaped is text for XML.
func escaped(words string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(words)) // a Builder does not fail
	return b.String()
}
