package sheet

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"

	"burngauge.dev/burngauge/pkg/target"
)

// families are tried from the left by whatever shows the SVG: the font that the
// text was measured by, then ones about as wide.
const families = "Go, Helvetica, Arial, 'Liberation Sans', sans-serif"

// SVG writes one page with targets: width and height in mm, one unit of the
// viewBox a millimetre. Text is text, told its width, so that another font does
// not run over. Errors as for PDF.
func SVG(w io.Writer, spec target.Spec, opt Options) error {
	page, shapes, err := layOut(spec, opt)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %[1]s %[2]s" font-family="%s" fill="none">
<title>%s</title>
<rect width="100%%" height="100%%" fill="#fff"/>
`, num(page.w), num(page.h), families, escaped("Ring targets: "+spec.Name))
	for _, s := range shapes {
		b.WriteString(svgElement(s) + "\n")
	}
	b.WriteString("</svg>\n")
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("writing the SVG: %w", err)
	}
	return nil
}

// svgElement is one shape's element.
func svgElement(s shape) string {
	switch s := s.(type) {
	case *circle:
		return fmt.Sprintf(`<circle cx="%s" cy="%s" r="%s" stroke="%s" stroke-width="%s"%s/>`,
			num(s.x), num(s.y), num(s.r), s.ink.hex(), num(s.width), dashes(s.dash))
	case *line:
		return fmt.Sprintf(`<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="%s" stroke-width="%s"/>`,
			num(s.x1), num(s.y1), num(s.x2), num(s.y2), s.ink.hex(), num(s.width))
	case *bar:
		return fmt.Sprintf(`<rect x="%s" y="%s" width="%s" height="%s" fill="%s"/>`,
			num(s.x), num(s.y), num(s.w), num(s.h), s.ink.hex())
	case *text:
		return fmt.Sprintf(`<text x="%s" y="%s" font-size="%s"%s fill="%s" textLength="%s" lengthAdjust="spacingAndGlyphs">%s</text>`,
			num(s.x), num(s.y), num(s.height), weight(s.bold), s.ink.hex(), num(s.width()), escaped(s.words))
	}
	panic(fmt.Sprintf("sheet: no SVG for %T", s))
}

// hex is the grey as an SVG colour.
func (g grey) hex() string { return fmt.Sprintf("#%02x%02[1]x%02[1]x", uint8(g)) }

func weight(isBold bool) string {
	if isBold {
		return ` font-weight="bold"`
	}
	return ""
}

func dashes(lengths []float64) string {
	if len(lengths) == 0 {
		return ""
	}
	var out []string
	for _, l := range lengths {
		out = append(out, num(l))
	}
	return fmt.Sprintf(` stroke-dasharray="%s"`, strings.Join(out, " "))
}

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
