package overlay

import (
	"fmt"
	"image"
	"image/color"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"
)

// regular and bold are parsed once. They come with the program.
var (
	regular = sync.OnceValue(func() *sfnt.Font { return parsed(goregular.TTF) })
	bold    = sync.OnceValue(func() *sfnt.Font { return parsed(gobold.TTF) })
)

func parsed(data []byte) *sfnt.Font {
	f, err := opentype.Parse(data)
	if err != nil {
		panic(fmt.Sprintf("overlay: built-in font: %v", err))
	}
	return f
}

// letters are one font at one size.
type letters struct {
	font *sfnt.Font
	face font.Face
	size float64 // px of the em
}

// newLetters prepares a font at a size in px.
func newLetters(f *sfnt.Font, size float64) letters {
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingFull})
	if err != nil {
		panic(fmt.Sprintf("overlay: font size %v: %v", size, err))
	}
	return letters{f, face, size}
}

// tied is a space that lines do not break at: no-break space.
const tied = '\u00a0'

// known is the text as this font can write it: composed, on one line, and "?"
// for what it has no letter for.
func (l letters) known(text string) string {
	var buffer sfnt.Buffer
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) && r != tied {
			return ' '
		}
		if glyph, err := l.font.GlyphIndex(&buffer, r); err != nil || glyph == 0 || !unicode.IsGraphic(r) {
			return '?'
		}
		return r
	}, norm.NFC.String(text))
}

// width of a text in px.
func (l letters) width(text string) float64 {
	return float64(font.MeasureString(l.face, text)) / 64
}

// rise is how far letters reach above the line they stand on, drop below; px.
func (l letters) rise() float64 { return float64(l.face.Metrics().Ascent) / 64 }
func (l letters) drop() float64 { return float64(l.face.Metrics().Descent) / 64 }

// wrapped breaks a text into lines no wider than width, at spaces, and within a
// word only when the word alone is too wide.
func (l letters) wrapped(text string, width float64) []string {
	var lines []string
	line := ""
	for _, word := range words(text) {
		if joined := strings.TrimSpace(line + " " + word); l.width(joined) <= width {
			line = joined
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		pieces := l.broken(word, width)
		lines = append(lines, pieces[:len(pieces)-1]...)
		line = pieces[len(pieces)-1]
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// words are what lines may be broken between.
func words(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == ' ' })
}

// broken cuts a word into pieces that fit, at least one letter each: after a
// hyphen or the like where there is one in the piece's second half.
func (l letters) broken(word string, width float64) []string {
	var pieces []string
	piece := ""
	for _, r := range word {
		if piece != "" && l.width(piece+string(r)) > width {
			cut := len(piece)
			if joint := strings.LastIndexAny(piece, "-_.") + 1; joint > len(piece)/2 {
				cut = joint
			}
			pieces, piece = append(pieces, piece[:cut]), piece[cut:]
		}
		piece += string(r)
	}
	return append(pieces, piece)
}

// write writes a text with its left end at p, on the line through p.
func (c *canvas) write(l letters, text string, p point, colour color.RGBA) {
	part := c.img.SubImage(c.part).(*image.RGBA)
	d := font.Drawer{Dst: part, Src: image.NewUniform(colour), Face: l.face,
		Dot: fixed.Point26_6{X: fixed.Int26_6(64 * (p.x + float64(c.part.Min.X))), Y: fixed.Int26_6(64 * (p.y + float64(c.part.Min.Y)))}}
	d.DrawString(text)
}

// label writes a text with a casing, in the middle of a box of labelSize.
func (c *canvas) label(l letters, text string, middle point, colour color.RGBA) {
	p := middle.add(point{-l.width(text) / 2, (l.rise() - l.drop()) / 2})
	for _, q := range circle(p, c.unit*labelCasing, 16).points {
		c.write(l, text, q, casing)
	}
	c.write(l, text, p, colour)
}

// labelCasing is wider than a line's: letters are busier. In units.
const labelCasing = 4

// labelSize is the room that a label takes, with its casing.
func (c *canvas) labelSize(l letters, text string) point {
	return point{l.width(text) + 2*c.unit*labelCasing, l.rise() + l.drop() + 2*c.unit*labelCasing}
}
