package drawing

import (
	"strings"
	"unicode"

	"burngauge.dev/burngauge/pkg/typeface"
)

// Font is how words look.
type Font struct {
	Size float64 // the em, mm: 1 mm is 2.83 points
	Bold bool
	Ink  Colour
}

// leading is from base line to base line, in font sizes: a seventh more than the Go
// fonts ask for (2367 of 2048 units), for reading at arm's length.
const leading = 1.32

// capsMid is from the base line up to a capital's middle, in font sizes: half the
// 1480 of 2048 units that a capital of the Go fonts is tall.
const capsMid = 0.36

// Text is one line of words: (X, Y) is where its base line begins.
type Text struct {
	Font
	X, Y  float64
	Words string
}

// Width of the words in mm.
func (t Text) Width() float64 { return t.Font.Width(t.Words) }

func (t Text) placed(scale, x, y float64) Shape {
	t.Size *= scale
	t.X, t.Y = x+scale*t.X, y+scale*t.Y
	return t
}

// Centred is a line of words whose middle is at (x, y).
func Centred(f Font, words string, x, y float64) Text {
	return Text{Font: f, X: x - f.Width(words)/2, Y: y + capsMid*f.Size, Words: words}
}

// Shrunk is the text in a font small enough to be no wider than width mm.
func (t Text) Shrunk(width float64) Text {
	if w := t.Width(); w > width {
		t.Size *= width / w
	}
	return t
}

// Width of words in mm.
func (f Font) Width(words string) float64 { return typeface.Of(f.Bold).Width(words, f.Size) }

// Line is the height that one line takes, mm.
func (f Font) Line() float64 { return f.Size * leading }

// Block is words broken into lines of a width.
type Block struct {
	Font
	Lines []string
}

// Block breaks words into lines no wider than width. What the fonts lack becomes a
// question mark. Words that are empty have no lines.
func (f Font) Block(words string, width float64) Block {
	face := typeface.Of(f.Bold)
	return Block{f, face.Wrap(face.Drawable(words), f.Size, width)}
}

// Tall is the block's height, mm.
func (b Block) Tall() float64 { return float64(len(b.Lines)) * b.Line() }

// At is the block with its upper left corner at (x, top). A line's letters stand in
// its middle: the base line of the i-th lies (i + 1/2) lines and half a capital
// below the top.
func (b Block) At(x, top float64) []Shape {
	out := make([]Shape, len(b.Lines))
	for i, words := range b.Lines {
		y := top + (float64(i)+0.5)*b.Size*leading + capsMid*b.Size
		out[i] = Text{Font: b.Font, X: x, Y: y, Words: words}
	}
	return out
}

// FirstLine is the words as far as one line of a width holds them, with an ellipsis
// for the rest.
func (f Font) FirstLine(words string, width float64) string {
	lines := f.Block(words, width).Lines
	switch len(lines) {
	case 0:
		return ""
	case 1:
		return lines[0]
	}
	return lines[0] + " …"
}

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
