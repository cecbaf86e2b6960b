package overlay

import (
	"image/color"
	"math"
)

// Sizes of letters, in units. At a width of 1600 the smallest are 38 px high:
// 1.7 mm on a phone of 70 mm.
const (
	titleEm = 48
	bodyEm  = 44
	keyEm   = 38
)

// Distances in units.
const (
	panelMargin  = 36
	pieceGap     = 34
	leading      = 1.22 // line to line, in ems
	paragraphGap = 12
	sampleLong   = 66 // of a solid line
	markLong     = 98 // of a mark's sample
	sampleGap    = 14
	chipPad      = 16
)

// piece is a run of words, with a sample of a line before it or on a chip.
type piece struct {
	text   string
	sample *sample
	chip   string // a verdict's state: the words stand on its colour
}

// sample is a small drawing before words.
type sample struct {
	units float64
	px    float64 // instead of units: a true length
	paint func(c *canvas, place box)
}

// paragraph is a line of pieces, wrapped where the panel ends.
type paragraph struct {
	size   float64 // em in units
	bold   bool
	indent bool // by a mark's sample
	rule   bool // a line above
	pieces []piece
}

// run is one text in its place.
type run struct {
	text    string
	letters letters
	at      point // left end, on the line
	colour  color.RGBA
}

// panel is the caption, laid out.
type panel struct {
	unit   float64
	width  int
	height int
	runs   []run
	under  []func(c *canvas) // chips, samples and rules, below the letters
}

// newPanel lays out paragraphs in a width.
func newPanel(unit float64, width int, list []paragraph) *panel {
	p := &panel{unit: unit, width: width}
	y := panelMargin * unit * 0.7
	for _, each := range list {
		if each.rule {
			y = p.addRule(y)
		}
		y = p.add(each, y) + paragraphGap*unit
	}
	p.height = int(math.Ceil(y + (panelMargin*0.7-paragraphGap)*unit))
	return p
}

// left and right are the panel's inner edges.
func (p *panel) left() float64  { return panelMargin * p.unit }
func (p *panel) right() float64 { return float64(p.width) - panelMargin*p.unit }

// addRule adds a thin line across.
func (p *panel) addRule(y float64) float64 {
	y += paragraphGap * p.unit
	line := box{point{p.left(), y}, point{p.right(), y + max(1, 2*p.unit)}}
	p.under = append(p.under, func(c *canvas) { c.fill([][]point{corners(line)}, faint) })
	return y + 1.5*paragraphGap*p.unit
}

// cursor is where the next piece goes.
type cursor struct {
	x, top, start float64
	l             letters
	lineHeight    float64
}

// add lays out one paragraph from y on and says where it ends.
func (p *panel) add(each paragraph, y float64) float64 {
	font := regular()
	if each.bold {
		font = bold()
	}
	at := cursor{x: p.left(), top: y, start: p.left(), l: newLetters(font, each.size*p.unit), lineHeight: leading * each.size * p.unit}
	if each.indent {
		at.x += (markLong + sampleGap) * p.unit
		at.start = at.x
	}
	for _, q := range each.pieces {
		q.text = at.l.known(q.text)
		p.place(q, &at)
	}
	return at.top + at.lineHeight
}

// place puts a piece on the line, or on the next when it does not fit.
func (p *panel) place(q piece, at *cursor) {
	before, pad := p.before(q), 0.0
	if q.chip != "" {
		pad = chipPad * p.unit
	}
	if at.x > at.start && at.x+before+at.l.width(q.text)+2*pad > p.right() {
		at.x, at.top = at.start, at.top+at.lineHeight*1.08
	}
	if q.sample != nil {
		place := box{point{at.x, at.top}, point{at.x + p.long(q.sample), at.top + at.lineHeight}}
		p.under = append(p.under, func(c *canvas) { q.sample.paint(c, place) })
	}
	x := at.x + before + pad
	for i, line := range at.l.wrapped(q.text, p.right()-x-pad) {
		if i > 0 {
			at.top += at.lineHeight
		}
		p.addRun(line, point{x, at.top}, q.chip, at)
		at.x = x + at.l.width(line) + pad + pieceGap*p.unit
	}
}

// addRun adds one line of a piece, top left at p.
func (p *panel) addRun(line string, topLeft point, chip string, at *cursor) {
	spare := (at.lineHeight - at.l.rise() - at.l.drop()) / 2
	r := run{line, at.l, topLeft.add(point{0, spare + at.l.rise()}), ink}
	if chip != "" {
		r.colour = paper
		ground := box{topLeft.sub(point{chipPad * p.unit, 0}), topLeft.add(point{at.l.width(line) + chipPad*p.unit, at.lineHeight})}
		p.under = append(p.under, func(c *canvas) { c.fill([][]point{rounded(ground, 10*c.unit)}, chipColour(chip)) })
	}
	p.runs = append(p.runs, r)
}

// before is the room that a piece's sample takes.
func (p *panel) before(q piece) float64 {
	if q.sample == nil {
		return 0
	}
	return p.long(q.sample) + sampleGap*p.unit
}

func (p *panel) long(s *sample) float64 {
	if s.px > 0 {
		return s.px
	}
	return s.units * p.unit
}

// paint draws the panel over its part of the overlay.
func (p *panel) paint(c *canvas) {
	fillRect(c.img, c.part, paper)
	for _, each := range p.under {
		each(c)
	}
	for _, r := range p.runs {
		c.write(r.letters, r.text, r.at, r.colour)
	}
}

// chipColour is the ground of a verdict: white letters keep 4.5:1 on each.
func chipColour(state string) color.RGBA {
	switch state {
	case "inside":
		return color.RGBA{0x0b, 0x6b, 0x3a, 0xff}
	case "outside":
		return color.RGBA{0xa8, 0x1e, 0x1e, 0xff}
	}
	return color.RGBA{0x7a, 0x55, 0x00, 0xff}
}

// corners of a box, as an area.
func corners(b box) []point {
	return []point{b.min, {b.max.x, b.min.y}, b.max, {b.min.x, b.max.y}}
}

// rounded is a box with round corners.
func rounded(b box, radius float64) []point {
	var area []point
	inner := corners(b.padded(-radius))
	for i, centre := range inner {
		for step := 0; step <= 6; step++ {
			sin, cos := math.Sincos(math.Pi/2*float64(i+2) + math.Pi/2*float64(step)/6)
			area = append(area, centre.add(point{radius * cos, radius * sin}))
		}
	}
	return area
}
