package sheet

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// families are tried from the left by whatever shows the SVG: the font that the
// text was measured by, then ones about as wide.
const families = "Go, Helvetica, Arial, 'Liberation Sans', sans-serif"

// WriteSVG writes the sheet as one page, as wide as the paper and as tall as it
// needs; one unit of the viewBox is a millimetre. Text is text, told its width, so
// that another font does not run over. Errors as for WritePDF.
func (s Sheet) WriteSVG(w io.Writer) error {
	if err := s.check(); err != nil {
		return err
	}
	l := s.layOut(newContent(s), true)
	var b bytes.Buffer
	fmt.Fprintf(&b, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %[1]s %[2]s" font-family="%s" fill="none" stroke-linejoin="round">
<title>Screw plan</title>
<rect width="100%%" height="100%%" fill="#fff"/>
`, num(l.wide), num(l.tall), families)
	for _, page := range l.pages {
		for _, sh := range page {
			b.WriteString(element(sh) + "\n")
		}
	}
	b.WriteString("</svg>\n")
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("writing the SVG: %w", err)
	}
	return nil
}

// element is one shape's.
func element(s shape) string {
	switch s := s.(type) {
	case *path:
		return pathElement(s)
	case *text:
		weight := ""
		if s.bold {
			weight = ` font-weight="bold"`
		}
		return fmt.Sprintf(`<text x="%s" y="%s" font-size="%s"%s fill="%s" textLength="%s" lengthAdjust="spacingAndGlyphs">%s</text>`,
			num(s.x), num(s.y), num(s.size), weight, s.ink.hex(), num(s.width()), escaped(s.words))
	}
	panic(fmt.Sprintf("sheet: no SVG for %T", s)) // a programmer's error
}

func pathElement(p *path) string {
	var d strings.Builder
	for i, pt := range p.points {
		letter := "L"
		if i == 0 {
			letter = "M"
		}
		d.WriteString(letter + num(pt.x) + " " + num(pt.y))
	}
	if p.closed {
		d.WriteString("Z")
	}
	attributes := ""
	if p.fill != nil {
		attributes += ` fill="` + p.fill.hex() + `"`
	}
	if p.width > 0 {
		attributes += ` stroke="` + p.ink.hex() + `" stroke-width="` + num(p.width) + `"`
	}
	if len(p.dash) > 0 {
		var lengths []string
		for _, v := range p.dash {
			lengths = append(lengths, num(v))
		}
		attributes += ` stroke-dasharray="` + strings.Join(lengths, " ") + `"`
	}
	return `<path d="` + d.String() + `"` + attributes + `/>`
}

// hex is the grey as an SVG colour.
func (g grey) hex() string { return fmt.Sprintf("#%02x%02[1]x%02[1]x", uint8(g)) }

// num writes mm to a tenth of a micrometre, without needless zeros.
func num(v float64) string {
	s := strconv.FormatFloat(v, 'f', 4, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// escaped is text for XML.
func escaped(words string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(words)) // a Builder does not fail
	return b.String()
}
