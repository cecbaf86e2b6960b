package sheet

import (
	"fmt"
	"io"
	"strings"

	"burngauge.dev/burngauge/pkg/printing"
)

// WriteSVG writes the sheet as one page, as wide as the paper and as tall as it
// needs; one unit of the viewBox is a millimetre. Text is text, told its width, so
// that another font does not run over. Errors as for WritePDF.
func (s Sheet) WriteSVG(w io.Writer) error {
	if err := s.check(); err != nil {
		return err
	}
	l := s.layOut(newContent(s), true)
	var elements []string
	for _, page := range l.pages {
		for _, sh := range page {
			elements = append(elements, element(sh))
		}
	}
	return printing.WriteSVG(w, printing.Size{Wide: l.wide, Tall: l.tall}, title, elements)
}

// title is the document's.
const title = "Screw plan"

// element is one shape's.
func element(s shape) string {
	switch s := s.(type) {
	case *path:
		return pathElement(s)
	case *text:
		return s.SVG()
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
		d.WriteString(letter + printing.Number(pt.x) + " " + printing.Number(pt.y))
	}
	if p.closed {
		d.WriteString("Z")
	}
	attributes := ""
	if p.fill != nil {
		attributes += ` fill="` + p.fill.Hex() + `"`
	}
	if p.width > 0 {
		attributes += ` stroke="` + p.ink.Hex() + `" stroke-width="` + printing.Number(p.width) + `"`
	}
	attributes += printing.Dashes(p.dash)
	return `<path d="` + d.String() + `"` + attributes + `/>`
}
