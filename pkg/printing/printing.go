// Package printing holds what every sheet for paper has in common: the papers,
// a PDF with embedded fonts that gives the same bytes for the same content, the
// text and the numbers of an SVG, and one-line text from elsewhere.
//
// Lengths are in mm.
package printing

import (
	"strings"
	"unicode"
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

// What sheets have in common, lengths on paper in mm, the others in font sizes.
const (
	Margin   = 12.0 // office printers leave 4 to 6 mm at the edges blank; this clears that
	FootTall = 7.0  // above the lower margin, for the line at a page's foot
	Leading  = 1.32 // baseline to baseline
	CapsMid  = 0.36 // from the baseline up to a capital's middle
)

// Baseline is that of a block's i-th line, in mm down the page, when the block's
// upper edge and the font's size are these: the letters' middle lies in the
// line's.
func Baseline(top float64, i int, size float64) float64 {
	return top + (float64(i)+0.5)*size*Leading + CapsMid*size
}

// Grey is a level of black ink: 0 black, 255 the paper. Any printer prints it.
type Grey uint8

// Plain makes one line of a text from elsewhere: no control characters, and
// none that turn the direction of what follows.
func Plain(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsGraphic(r):
			return r
		}
		return unicode.ReplacementChar
	}, strings.TrimSpace(text))
}

// Cut is a text of no more than most runes, with an ellipsis for the rest.
func Cut(text string, most int) string {
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}
