package sheet

import (
	"fmt"
	"io"

	"burngauge.dev/burngauge/pkg/printing"
	"burngauge.dev/burngauge/pkg/target"
)

// SVG writes one page with targets: width and height in mm, one unit of the
// viewBox a millimetre. Text is text, told its width, so that another font does
// not run over. Errors as for PDF.
func SVG(w io.Writer, spec target.Spec, opt Options) error {
	page, shapes, err := layOut(spec, opt)
	if err != nil {
		return err
	}
	elements := make([]string, len(shapes))
	for i, s := range shapes {
		elements[i] = svgElement(s)
	}
	return printing.WriteSVG(w, page, title(spec), elements)
}

// title is the document's.
func title(spec target.Spec) string { return "Ring targets: " + spec.Name }

// svgElement is one shape's element.
func svgElement(s shape) string {
	switch s := s.(type) {
	case *circle:
		return fmt.Sprintf(`<circle cx="%s" cy="%s" r="%s" stroke="%s" stroke-width="%s"%s/>`,
			printing.Number(s.x), printing.Number(s.y), printing.Number(s.r), s.ink.Hex(), printing.Number(s.width), printing.Dashes(s.dash))
	case *line:
		return fmt.Sprintf(`<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="%s" stroke-width="%s"/>`,
			printing.Number(s.x1), printing.Number(s.y1), printing.Number(s.x2), printing.Number(s.y2), s.ink.Hex(), printing.Number(s.width))
	case *bar:
		return fmt.Sprintf(`<rect x="%s" y="%s" width="%s" height="%s" fill="%s"/>`,
			printing.Number(s.x), printing.Number(s.y), printing.Number(s.w), printing.Number(s.h), s.ink.Hex())
	case *text:
		return s.SVG()
	}
	panic(fmt.Sprintf("sheet: no SVG for %T", s))
}
