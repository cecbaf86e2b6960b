package sheet

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/target"
)

// Options say what is printed. Start from DefaultOptions.
type Options struct {
	Paper string // one of drawing.Papers
	Count int    // targets on the sheet; 0: as many as fit
}

// DefaultOptions is a full sheet of A4.
func DefaultOptions() Options { return Options{Paper: drawing.A4} }

// OptionError says that a sheet cannot be laid out as it was asked for: no such
// paper, or more or larger targets than the page holds. Commands end with the
// exit code of wrong usage when they see it.
type OptionError struct{ Text string }

// Error is the text: lower case, what is wrong and what to do.
func (e *OptionError) Error() string { return e.Text }

// PDF writes one page with targets, true to size, with its fonts embedded. The
// same spec and options give the same bytes. Nothing is written when there is
// an error other than the writer's: *target.SpecError or *OptionError.
func PDF(w io.Writer, spec target.Spec, opt Options) error {
	return write(w, spec, opt, drawing.WritePDF)
}

// SVG writes one page with targets: width and height in mm, one unit of the viewBox
// a millimetre. Text is text. Errors as for PDF.
func SVG(w io.Writer, spec target.Spec, opt Options) error {
	return write(w, spec, opt, drawing.WriteSVG)
}

func write(w io.Writer, spec target.Spec, opt Options, writer func(io.Writer, drawing.Document) error) error {
	doc, err := layOut(spec, opt)
	if err != nil {
		return err
	}
	return writer(w, doc)
}

// title is the document's.
func title(spec target.Spec) string { return "Ring targets: " + spec.Name }

// layOut is the one geometry of the sheet, for every format.
func layOut(spec target.Spec, opt Options) (drawing.Document, error) {
	if err := spec.Check(); err != nil {
		return drawing.Document{}, err
	}
	page, ok := drawing.Paper(opt.Paper)
	if !ok {
		return drawing.Document{}, &OptionError{fmt.Sprintf("no paper called %q: choose %s", opt.Paper, strings.Join(drawing.Papers(), " or "))}
	}
	cells := newGrid(spec, page)
	count, err := cells.count(opt.Count)
	if err != nil {
		return drawing.Document{}, err
	}
	shapes := slices.Concat(header(spec, page), scaleBar(page), footer(page))
	for i := range count {
		shapes = append(shapes, cells.draw(spec, i)...)
	}
	return drawing.Document{Title: title(spec), Paper: page, Pages: [][]drawing.Shape{shapes}}, nil
}
