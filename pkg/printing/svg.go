package printing

import (
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// families are tried from the left by whatever shows an SVG: the font that the
// text was measured by, then ones about as wide.
const families = "Go, Helvetica, Arial, 'Liberation Sans', sans-serif"

// WriteSVG writes one page from its elements: one unit of the viewBox is a
// millimetre.
func WriteSVG(w io.Writer, size Size, title string, elements []string) error {
	var b strings.Builder
	fmt.Fprintf(&b, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %[1]s %[2]s" font-family="%s" fill="none" stroke-linejoin="round">
<title>%s</title>
<rect width="100%%" height="100%%" fill="#fff"/>
`, Number(size.Wide), Number(size.Tall), families, Escaped(title))
	for _, element := range elements {
		b.WriteString(element + "\n")
	}
	b.WriteString("</svg>\n")
	if _, err := io.WriteString(w, b.String()); err != nil {
		return fmt.Errorf("writing the SVG: %w", err)
	}
	return nil
}

// SVG is the text's element. It is told its width, so that another font does
// not run over.
func (t Text) SVG() string {
	weight := ""
	if t.Bold {
		weight = ` font-weight="bold"`
	}
	return fmt.Sprintf(`<text x="%s" y="%s" font-size="%s"%s fill="%s" textLength="%s" lengthAdjust="spacingAndGlyphs">%s</text>`,
		Number(t.X), Number(t.Y), Number(t.Size), weight, t.Ink.Hex(), Number(t.Width()), Escaped(t.Words))
}

// Hex is the grey as an SVG colour.
func (g Grey) Hex() string { return fmt.Sprintf("#%02x%02[1]x%02[1]x", uint8(g)) }

// Dashes is the attribute of a dashed stroke, "" of one without.
func Dashes(lengths []float64) string {
	if len(lengths) == 0 {
		return ""
	}
	out := make([]string, len(lengths))
	for i, l := range lengths {
		out[i] = Number(l)
	}
	return ` stroke-dasharray="` + strings.Join(out, " ") + `"`
}

// Number writes mm to a tenth of a micrometre, without needless zeros.
func Number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 4, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// Escaped is text for XML.
func Escaped(words string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(words)) // a Builder does not fail
	return b.String()
}
