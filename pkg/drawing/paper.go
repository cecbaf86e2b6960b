package drawing

import (
	"strings"
	"time"
)

// A4 and Letter are the papers that sheets are laid out for.
const (
	A4     = "a4"
	Letter = "letter"
)

// Size is a paper's, upright, in mm.
type Size struct{ Wide, Tall float64 }

// sizes: ISO 216 A4, and 8.5 x 11 inches.
var sizes = map[string]Size{A4: {210, 297}, Letter: {215.9, 279.4}}

// Papers are the names of all papers.
func Papers() []string { return []string{A4, Letter} }

// Paper is the size of the paper of a name, in either case; false when there
// is none.
func Paper(name string) (Size, bool) {
	size, ok := sizes[strings.ToLower(name)]
	return size, ok
}

// PaperOr is Paper, and A4 where there is none of that name.
func PaperOr(name string) Size {
	if size, ok := Paper(name); ok {
		return size
	}
	return sizes[A4]
}

// Document is what a writer writes.
type Document struct {
	Title string
	Made  time.Time // the PDF's date; zero: a fixed one, so that equal pages give equal bytes
	Paper Size
	Pages [][]Shape // drawn in their order, later shapes over earlier ones
}

// fixedDate is the date of a PDF that has none of its own.
var fixedDate = time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
