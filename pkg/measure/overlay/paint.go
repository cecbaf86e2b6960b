package overlay

import (
	"cmp"
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/measure"
	"burngauge.dev/burngauge/pkg/report"
)

// Lengths in units.
const (
	crossArm  = 16
	headLong  = 30 // of the offset arrow
	headWide  = 11 // half
	upGap     = 16 // between the index bar and the arrow
	upLong    = 74
	upHead    = 40
	upWide    = 20 // half
	labelEm   = 50 // size of labels in the picture
	labelGap  = 8
	keepClear = 10 // from the picture's edge
)

// paint draws everything that lies on the picture.
func (s *scene) paint(c *canvas, v view) {
	p := painter{scene: s, canvas: c, view: v, words: newLetters(bold(), labelEm*c.unit)}
	if s.res.ToPixel != nil {
		p.circles()
	}
	for i, m := range s.res.Measurements {
		p.outlineOf(i, m.Mark)
	}
	if s.res.ToPixel != nil {
		p.arrows()
		p.cross()
		p.up()
	}
	p.names()
}

// painter draws one scene on one picture.
type painter struct {
	*scene
	*canvas
	view  view
	words letters
	taken []box // where labels and arrows are
}

// on is a place on the target (mm) in the picture.
func (p *painter) on(right, up float64) point {
	x, y := p.res.ToPixel(right, up)
	return p.view.at(x, y)
}

// shown maps points of the photo to a closed path in the picture.
func (p *painter) shown(points [][2]float64) path {
	out := path{closed: true}
	for _, q := range points {
		out.points = append(out.points, p.view.at(q[0], q[1]))
	}
	return out
}

// circles draws the rings and the limit.
func (p *painter) circles() {
	seen, unseen := figure{pen: seenPen}, figure{pen: unseenPen}
	for _, r := range p.rings {
		line := p.shown(p.ringPx(r.diameter / 2))
		if r.seen {
			seen.lines = append(seen.lines, line)
		} else {
			unseen.lines = append(unseen.lines, line)
		}
	}
	p.draw(unseen)
	p.draw(seen)
	if limit := p.limit(); limit > 0 {
		p.draw(figure{pen: limitPen, lines: []path{p.shown(p.ringPx(limit))}})
	}
}

// outlineOf draws the i-th mark's outline.
func (p *painter) outlineOf(i int, mark string) {
	if points := p.outline(i); len(points) > 2 {
		p.draw(figure{pen: markPen(mark), lines: []path{p.shown(points)}})
	}
}

// markPen is that of a mark; an unknown one is drawn like a burn.
func markPen(mark string) pen {
	if known, ok := markPens[mark]; ok {
		return known
	}
	return markPens[measure.Burn]
}

// arrows draws each offset from the centre to the mark, the longest first: two
// that point the same way are then both seen.
func (p *painter) arrows() {
	var known []report.Measurement
	for _, m := range p.res.Measurements {
		if m.Offset != nil {
			known = append(known, m)
		}
	}
	slices.SortStableFunc(known, func(a, b report.Measurement) int {
		return cmp.Compare(b.Offset.DistanceMM, a.Offset.DistanceMM)
	})
	for _, m := range known {
		p.draw(p.arrow(p.on(0, 0), p.on(m.Offset.RightMM, m.Offset.UpMM), m.Mark))
	}
}

// arrow has a filled head for a burn and an open one for the pointer. What is
// too short for an arrow is a dot at the mark's place.
func (c *canvas) arrow(from, tip point, mark string) figure {
	f := figure{pen: markPen(mark)}
	f.pen.dash = 0
	d, ok := tip.sub(from).unit()
	length, wide := headLong*c.unit, headWide*c.unit
	if distance := tip.sub(from).length(); !ok || distance < 1.5*length {
		f.areas = []path{{points: disc(tip, 5*c.unit)}}
		return f
	}
	neck, side := tip.sub(d.times(length)), d.left().times(wide)
	if mark == measure.Pointer {
		f.lines = []path{{points: []point{from, tip}}, {points: []point{neck.add(side), tip, neck.sub(side)}}}
		return f
	}
	f.lines = []path{{points: []point{from, neck}}}
	f.areas = []path{{points: []point{neck.add(side), tip, neck.sub(side)}}}
	return f
}

// cross marks the centre, upright in the picture.
func (p *painter) cross() {
	o, arm := p.on(0, 0), crossArm*p.unit
	p.draw(figure{pen: crossPen, lines: []path{
		{points: []point{o.sub(point{arm, 0}), o.add(point{arm, 0})}},
		{points: []point{o.sub(point{0, arm}), o.add(point{0, arm})}},
	}})
}

// up draws the arrow beyond the index bar and its label, drawn in towards the
// centre where the picture ends.
func (p *painter) up() {
	end, beyond := p.on(0, p.barEnd()), p.on(0, p.barEnd()+0.1)
	d, ok := beyond.sub(end).unit()
	if !ok {
		return
	}
	size := p.labelSize(p.words, "up")
	reach := math.Abs(d.x)*size.x/2 + math.Abs(d.y)*size.y/2 + labelGap*p.unit // of the label along d
	room := p.frame().padded(-keepClear * p.unit)
	for back := 0.0; back < fullSide*math.Sqrt2; back++ { // not found: the axis does not cross the picture
		start := end.add(d.times((upGap - back) * p.unit))
		tip := start.add(d.times(upLong * p.unit))
		word := around(tip.add(d.times(reach)), size)
		if room.holds(word) && room.holds(noBox().with(start).with(tip)) {
			p.draw(p.upArrow(start, tip, d))
			p.label(p.words, "up", word.middle(), white)
			p.taken = append(p.taken, word, noBox().with(start).with(tip).padded(upWide*p.unit))
			return
		}
	}
}

// upArrow is a short shaft with a wide head.
func (c *canvas) upArrow(from, tip, d point) figure {
	neck, side := tip.sub(d.times(upHead*c.unit)), d.left().times(upWide*c.unit)
	return figure{pen: upPen,
		lines: []path{{points: []point{from, neck}}},
		areas: []path{{points: []point{neck.add(side), tip, neck.sub(side)}}}}
}

// names writes the marks' names beside them, when there are two to distinguish.
func (p *painter) names() {
	if len(p.res.Measurements) < 2 {
		return
	}
	extents := make([]box, len(p.res.Measurements))
	for i := range extents {
		extents[i] = p.extent(i)
	}
	for i, m := range p.res.Measurements {
		if !extents[i].empty() {
			p.name(m.Mark, extents[i], extents)
		}
	}
}

// extent is where the i-th mark is in the picture; empty when it is nowhere.
func (p *painter) extent(i int) box {
	b := p.shown(p.outline(i)).bounds()
	if o := p.res.Measurements[i].Offset; b.empty() && o != nil && p.res.ToPixel != nil {
		b = b.with(p.on(o.RightMM, o.UpMM))
	}
	return b
}

// name writes a mark's name at the first place beside it that is free; the last
// resort is above it.
func (p *painter) name(text string, mark box, marks []box) {
	text = p.words.known(text)
	size := p.labelSize(p.words, text)
	room := p.frame().padded(-keepClear * p.unit)
	for _, place := range besides(mark.padded(labelGap*p.unit), size) {
		if room.holds(place) && !meetsAny(place, p.taken) && !meetsAny(place, marks) {
			p.label(p.words, text, place.middle(), markPen(text).colour)
			p.taken = append(p.taken, place)
			return
		}
	}
	p.label(p.words, text, point{mark.middle().x, mark.min.y - size.y/2}, markPen(text).colour)
}

// besides are the places for a label around a mark: right, left, below, above,
// and at the corners.
func besides(mark box, size point) []box {
	m, h := mark.middle(), size.times(0.5)
	right, left, below, above := mark.max.x+h.x, mark.min.x-h.x, mark.max.y+h.y, mark.min.y-h.y
	var places []box
	for _, at := range []point{{right, m.y}, {left, m.y}, {m.x, below}, {m.x, above}, {right, below}, {left, below}, {right, above}, {left, above}} {
		places = append(places, around(at, size))
	}
	return places
}

func meetsAny(b box, others []box) bool {
	for _, other := range others {
		if b.meets(other) {
			return true
		}
	}
	return false
}
