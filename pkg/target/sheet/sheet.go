package sheet

import (
	"fmt"
	"slices"
	"strings"

	"burngauge.dev/burngauge/pkg/printing"
	"burngauge.dev/burngauge/pkg/target"
)

// Options say what is printed. Start from DefaultOptions.
type Options struct {
	Paper string // one of printing.Papers
	Count int    // targets on the sheet; 0: as many as fit
}

// DefaultOptions is a full sheet of A4.
func DefaultOptions() Options { return Options{Paper: printing.A4} }

// OptionError says that a sheet cannot be laid out as it was asked for: no such
// paper, or more or larger targets than the page holds. Commands end with the
// exit code of wrong usage when they see it.
type OptionError struct{ Text string }

// Error is the text: lower case, what is wrong and what to do.
func (e *OptionError) Error() string { return e.Text }

// paperSize finds a paper by its name, in either case.
func paperSize(name string) (size, error) {
	page, ok := printing.Paper(name)
	if !ok {
		return size{}, &OptionError{fmt.Sprintf("no paper called %q: choose %s", name, strings.Join(printing.Papers(), " or "))}
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
