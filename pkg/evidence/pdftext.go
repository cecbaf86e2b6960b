package evidence

import (
	"burngauge.dev/burngauge/pkg/printing"
	"burngauge.dev/burngauge/pkg/typeface"
)

// text is one line; (x, y) is its left end on the baseline, mm.
type text struct {
	words string
	x, y  float64
	size  float64 // font size (em)
	bold  bool
	ink   colour
}

// words puts a line on the page.
func (p *paper) words(t text) {
	style := ""
	if t.bold {
		style = "B"
	}
	p.doc.SetFont(printing.Family, style, 0)
	p.doc.SetFontUnitSize(t.size)
	p.doc.SetTextColor(int(t.ink.R), int(t.ink.G), int(t.ink.B))
	p.doc.Text(t.x, t.y, typeface.Of(t.bold).Drawable(t.words))
}

// block is text broken into lines of a width.
type block struct {
	lines []string
	text
}

// wrapped breaks t's words; t.x is where its lines start.
func wrapped(t text, width float64) block {
	face := typeface.Of(t.bold)
	return block{face.Wrap(face.Drawable(t.words), t.size, width), t}
}

// tall is the block's height.
func (b block) tall() float64 { return float64(len(b.lines)) * b.size * leading }

// put draws a block whose upper edge is y.
func (p *paper) put(b block, y float64) {
	for i, line := range b.lines {
		t := b.text
		t.words, t.y = line, printing.Baseline(y, i, t.size)
		p.words(t)
	}
}

// flow writes a paragraph across the page, line by line over page breaks.
func (p *paper) flow(words string, size float64) {
	p.flowAt(text{words: words, size: size, ink: ink, x: margin}, p.width())
}

// flowAt is flow with a left edge and width.
func (p *paper) flowAt(t text, width float64) {
	p.flowLines(wrapped(t, width))
	p.y += 0.35 * t.size
}

// flowLines puts lines below each other, over page breaks.
func (p *paper) flowLines(b block) {
	for _, line := range b.lines {
		p.need(b.size * leading)
		p.put(block{[]string{line}, b.text}, p.y)
		p.y += b.size * leading
	}
}

// heading starts a section; next is the height of what must stand below it on
// the same page.
func (p *paper) heading(words string, next float64) {
	const above, below = 3.0, 1.2
	p.need(above + headSize*leading + below + next)
	if p.y > margin {
		p.y += above
	}
	b := wrapped(text{words: words, size: headSize, bold: true, ink: ink, x: margin}, p.width())
	p.put(b, p.y)
	p.y += b.tall() + below
}

// facts writes labels and texts in two columns, over page breaks; label is the
// width of the labels, which take one line each.
func (p *paper) facts(list []fact, label float64) {
	for _, f := range list {
		name := wrapped(text{words: f.Label, size: bodySize, ink: muted, x: margin}, label-1.5)
		p.need(name.tall())
		p.put(name, p.y)
		p.flowLines(wrapped(text{words: f.Text, size: bodySize, ink: ink, x: margin + label}, p.width()-label))
	}
}
