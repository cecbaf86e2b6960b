// Package typeface holds the two fonts that PDFs embed, and measures and breaks
// lines of text by them.
//
// They are the Go fonts (Bigelow & Holmes, BSD licence, see NOTICE): Latin,
// Greek and Cyrillic letters, without those of Asia's scripts.
package typeface

import (
	"fmt"
	"strings"
	"sync"
	"unicode/utf8"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"
)

// Face is one weight. It may be used from several goroutines at once.
type Face struct {
	mu   sync.Mutex // guards buf
	buf  sfnt.Buffer
	font *sfnt.Font
	data []byte
}

// The bytes are compiled in, so that a parse error is a programmer's.
var (
	regular = sync.OnceValue(func() *Face { return parse(goregular.TTF) })
	bold    = sync.OnceValue(func() *Face { return parse(gobold.TTF) })
)

// Regular is the weight for running text.
func Regular() *Face { return regular() }

// Bold is the heavy weight.
func Bold() *Face { return bold() }

// Of picks the weight.
func Of(isBold bool) *Face {
	if isBold {
		return bold()
	}
	return regular()
}

func parse(data []byte) *Face {
	parsed, err := sfnt.Parse(data)
	if err != nil {
		panic(fmt.Sprintf("typeface: built-in font: %v", err))
	}
	return &Face{font: parsed, data: data}
}

// Data is the font as a TrueType file. The caller must not change it.
func (f *Face) Data() []byte { return f.data }

// emUnits is the size at which glyphs are measured: large, so that rounding to
// 1/64 does not show.
const emUnits = 2048

// Width of a line of text at a font size (em), in the size's unit. Kerning is
// not used by the PDF writer, so it is not counted.
func (f *Face) Width(words string, size float64) float64 {
	f.mu.Lock()
	defer f.mu.Unlock()
	total := fixed.Int26_6(0)
	for _, r := range words {
		glyph, err := f.font.GlyphIndex(&f.buf, r)
		if err != nil {
			continue
		}
		if advance, err := f.font.GlyphAdvance(&f.buf, glyph, fixed.I(emUnits), font.HintingNone); err == nil {
			total += advance
		}
	}
	return float64(total) / 64 / emUnits * size
}

// Drawable replaces what the font has no glyph for by a question mark. A letter and
// its accent that stand apart, as in file names from some systems, become the one
// letter that the font has (Unicode's normal form C).
func (f *Face) Drawable(words string) string {
	return strings.Map(func(r rune) rune {
		if f.hasRune(r) {
			return r
		}
		return '?'
	}, norm.NFC.String(words))
}

// Has says whether the font shows every character of the words.
func (f *Face) Has(words string) bool {
	for _, r := range norm.NFC.String(words) {
		if !f.hasRune(r) {
			return false
		}
	}
	return true
}

func (f *Face) hasRune(r rune) bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	glyph, err := f.font.GlyphIndex(&f.buf, r)
	return err == nil && glyph != 0
}

// Wrap breaks words into lines no wider than width, at a font size in the same
// unit. It breaks between words, and inside a word that is wider than a line:
// a file's name or a hash. One character stands on a line however wide it is.
func (f *Face) Wrap(words string, size, width float64) []string {
	var lines []string
	current := ""
	for _, word := range strings.Fields(strings.ToValidUTF8(words, "\uFFFD")) {
		longer := strings.TrimSpace(current + " " + word)
		if f.Width(longer, size) <= width {
			current = longer
			continue
		}
		if current != "" {
			lines = append(lines, current)
		}
		parts := f.split(word, size, width)
		lines = append(lines, parts[:len(parts)-1]...)
		current = parts[len(parts)-1]
	}
	if current == "" {
		return lines
	}
	return append(lines, current)
}

// joints are the characters after which a long word is broken sooner than
// elsewhere: those of file names.
const joints = "-_./"

// split breaks a word into pieces no wider than width; there is at least one.
func (f *Face) split(word string, size, width float64) []string {
	var parts []string
	start, joint := 0, 0 // of the piece; behind the last joint in it
	for i, r := range word {
		next := i + utf8.RuneLen(r)
		for i > start && f.Width(word[start:next], size) > width {
			end := i
			if joint > start {
				end = joint
			}
			parts = append(parts, word[start:end])
			start = end
		}
		if strings.ContainsRune(joints, r) {
			joint = next
		}
	}
	return append(parts, word[start:])
}
