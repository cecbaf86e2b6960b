package sheet

import (
	"fmt"
	"slices"
	"strings"

	"burngauge.dev/burngauge/pkg/target"
)

// A4 and Letter are the papers that a sheet is laid out for.
const (
	A4     = "a4"
	Letter = "letter"
)

// paper sizes in mm, upright: ISO 216 A4, and 8.5 x 11 inches.
var papers = map[string]size{
	A4:     {210, 297},
	Letter: {215.9, 279.4},
}

// Options say what is printed. Start from DefaultOptions.
type Options struct {
	Paper string // A4 or Letter
	Count int    // targets on the sheet; 0: as many as fit
}

// DefaultOptions is a full sheet of A4.
func DefaultOptions() Options { return Options{Paper: A4} }

// Papers lists what Options.Paper may be, the default first.
func Papers() []string { return []string{A4, Letter} }

// OptionError says that a sheet cannot be laid out as it was asked for: no such
// paper, or more or larger targets than the page holds. Commands end with the
// exit code of wrong usage when they see it.
type OptionError struct{ Text string }

// Error is the text: lower case, what is wrong and what to do.
func (e *OptionError) Error() string { return e.Text }

// paperSize finds a paper by its name, in either case.
func paperSize(name string) (size, error) {
	page, ok := papers[strings.ToLower(name)]
	if !ok {
		return size{}, &OptionError{fmt.Sprintf("no paper called %q: choose %s", name, strings.Join(Papers(), " or "))}
	}
	return page, nil
}

// layOut is the one geometry of the sheet, for every format.
func layOut(spec target.Spec, opt Options) (page size, shapes []shape, err error) {
	if err := spec.Check(); err != nil {
		return size{}, nil, err
	}
	if page, err = paperSize(opt.Paper); err != nil {
		return size{}, nil, err
	}
	cells := newGrid(spec, page)
	count, err := cells.count(opt.Count)
	if err != nil {
		return size{}, nil, err
	}
	shapes = slices.Concat(header(spec, page), scaleBar(page), footer(page))
	for i := range count {
		shapes = append(shapes, cells.draw(spec, i)...)
	}
	return page, shapes, nil
}
