package sheet

import (
	"fmt"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// face is one weight of the Go fonts (Bigelow & Holmes, BSD licence), which
// the PDF embeds and by which both formats measure their text.
type face struct {
	mu   sync.Mutex // guards buf
	buf  sfnt.Buffer
	font *sfnt.Font
	data []byte
}

// faces are the weights in use; their bytes are compiled in, so that a parse
// error is a programmer's.
var (
	regular = sync.OnceValue(func() *face { return newFace(goregular.TTF) })
	bold    = sync.OnceValue(func() *face { return newFace(gobold.TTF) })
)

func newFace(data []byte) *face {
	parsed, err := sfnt.Parse(data)
	if err != nil {
		panic(fmt.Sprintf("sheet: built-in font: %v", err))
	}
	return &face{font: parsed, data: data}
}

// faceOf picks the weight.
func faceOf(isBold bool) *face {
	if isBold {
		return bold()
	}
	return regular()
}

// emUnits is the size at which glyphs are measured: large, so that rounding to
// 1/64 does not show.
const emUnits = 2048

// width of a line of text in mm at a font size in mm; kerning is not used by
// the PDF writer, so it is not counted.
func (f *face) width(words string, height float64) float64 {
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
	return float64(total) / 64 / emUnits * height
}

// drawable replaces what the font has no glyph for by a question mark.
func (f *face) drawable(words string) string {
	f.mu.Lock()
	defer f.mu.Unlock()
	return strings.Map(func(r rune) rune {
		if glyph, err := f.font.GlyphIndex(&f.buf, r); err != nil || glyph == 0 {
			return '?'
		}
		return r
	}, words)
}

// width of the text as it is drawn, mm.
func (t *text) width() float64 { return faceOf(t.bold).width(t.words, t.height) }

// wrap breaks words into lines no wider than width mm at a font size in mm. A
// single word that is wider stands on a line of its own.
func wrap(words string, height, width float64) []string {
	var lines []string
	current := ""
	for _, word := range strings.Fields(words) {
		longer := strings.TrimSpace(current + " " + word)
		if current != "" && regular().width(longer, height) > width {
			lines = append(lines, current)
			longer = word
		}
		current = longer
	}
	if current == "" {
		return lines
	}
	return append(lines, current)
}
