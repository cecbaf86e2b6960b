package overlay

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/vector"
)

// Colours: light lines that keep 4.5:1 or more against the casing (the contrast
// of WCAG 2.1, 1.4.3), of hues that stay apart for most colour-blind people.
var (
	casing   = color.RGBA{0x10, 0x10, 0x10, 0xff}
	white    = color.RGBA{0xff, 0xff, 0xff, 0xff}
	yellow   = color.RGBA{0xff, 0xdd, 0x33, 0xff}
	orange   = color.RGBA{0xff, 0x9a, 0x4d, 0xff}
	sky      = color.RGBA{0x7d, 0xd8, 0xff, 0xff}
	backdrop = color.RGBA{0x40, 0x40, 0x40, 0xff}
	paper    = color.RGBA{0xff, 0xff, 0xff, 0xff}
	ink      = color.RGBA{0x18, 0x18, 0x18, 0xff}
	faint    = color.RGBA{0xb8, 0xb8, 0xb8, 0xff}
)

// pen is how a line looks. Lengths are in units.
type pen struct {
	colour    color.RGBA
	width     float64
	dash, gap float64 // 0: solid
}

// casingWidth is how far the casing reaches on each side of a line, in units.
const casingWidth = 2.2

// canvas draws into one part of an image. Places are px from the part's top left
// corner. A unit is 1/1600 of the picture's longer side, in the caption of its
// width, so that lines and letters look alike in overlays of all sizes.
type canvas struct {
	img  *image.RGBA
	part image.Rectangle
	unit float64
}

// frame is the canvas's own area.
func (c *canvas) frame() box { return boxOf(c.part.Sub(c.part.Min)) }

// figure is what shares one casing: lines and filled areas.
type figure struct {
	pen   pen
	lines []path
	areas []path
}

// draw draws the casing of the whole figure, then the figure.
func (c *canvas) draw(f figure) {
	width := c.unit * f.pen.width
	outer := width + 2*c.unit*casingWidth
	lines := c.cut(f)
	var dark, light [][]point
	for _, line := range lines {
		dark = append(dark, ribbon(longer(line, c.unit*casingWidth), outer)...)
		light = append(light, ribbon(line, width)...)
	}
	for _, area := range f.areas {
		area.closed = true
		dark = append(append(dark, ribbon(area, 2*c.unit*casingWidth)...), area.points)
		light = append(light, area.points)
	}
	c.fill(dark, casing)
	c.fill(light, f.pen.colour)
}

// cut leaves of a figure's lines what can be seen, in dashes.
func (c *canvas) cut(f figure) []path {
	const beyond = 20 // units: more than half a casing, so that cut ends are out of sight
	frame := c.frame().padded(beyond * c.unit)
	var parts []path
	for _, line := range f.lines {
		for _, part := range line.inside(frame) {
			if f.pen.dash > 0 {
				parts = append(parts, part.dashed(c.unit*f.pen.dash, c.unit*f.pen.gap)...)
			} else {
				parts = append(parts, part)
			}
		}
	}
	return parts
}

// longer lengthens an open path at both ends, for a casing around its ends too.
func longer(p path, by float64) path {
	n := len(p.points)
	if p.closed || n < 2 {
		return p
	}
	points := append([]point(nil), p.points...)
	if d, ok := points[0].sub(points[1]).unit(); ok {
		points[0] = points[0].add(d.times(by))
	}
	if d, ok := points[n-1].sub(p.points[n-2]).unit(); ok {
		points[n-1] = points[n-1].add(d.times(by))
	}
	return path{points: points}
}

// ribbon is a line of a width as areas to fill: one for each straight piece and
// a disc where the line turns.
func ribbon(p path, width float64) [][]point {
	var areas [][]point
	var before point // direction of the piece before
	piece := func(a, b point) {
		d, ok := b.sub(a).unit()
		if !ok {
			return
		}
		if turns(before, d) {
			areas = append(areas, disc(a, width/2))
		}
		side := d.left().times(width / 2)
		areas = append(areas, []point{a.add(side), b.add(side), b.sub(side), a.sub(side)})
		before = d
	}
	p.segments(piece)
	if n := len(p.points); p.closed && n > 2 {
		if d, ok := p.points[1].sub(p.points[0]).unit(); ok && turns(before, d) {
			areas = append(areas, disc(p.points[0], width/2))
		}
	}
	return areas
}

// turns reports whether a corner opens a gap that can be seen: at 5 degrees, the
// wedge at the edge of a line of 8 px is 0.35 px.
func turns(before, after point) bool {
	const cos5 = 0.9962
	return before != (point{}) && before.x*after.x+before.y*after.y < cos5
}

// disc is a circle as a polygon of 16 sides: 0.1 px off at a radius of 5.
func disc(centre point, radius float64) []point {
	return circle(centre, radius, 16).points
}

// circle is a closed path of n points.
func circle(centre point, radius float64, n int) path {
	points := make([]point, n)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		points[i] = centre.add(point{radius * cos, radius * sin})
	}
	return path{points, true}
}

// fill fills areas, which may overlap, with one colour.
func (c *canvas) fill(areas [][]point, colour color.RGBA) {
	bounds := noBox()
	for _, area := range areas {
		for _, p := range area {
			bounds = bounds.with(p)
		}
	}
	rect := bounds.within(c.part.Sub(c.part.Min))
	if rect.Empty() {
		return
	}
	r := vector.NewRasterizer(rect.Dx(), rect.Dy())
	for _, area := range areas {
		trace(r, area, boxOf(rect).min)
	}
	r.Draw(c.img, rect.Add(c.part.Min), image.NewUniform(colour), image.Point{})
}

// trace adds an area to the rasterizer, always in one sense of turning: areas of
// opposite senses would cancel where they overlap.
func trace(r *vector.Rasterizer, area []point, origin point) {
	if len(area) < 3 || !allFinite(area) {
		return
	}
	place := func(i int) (float32, float32) {
		if signedArea(area) < 0 {
			i = len(area) - 1 - i
		}
		p := area[i].sub(origin)
		return float32(p.x), float32(p.y)
	}
	r.MoveTo(place(0))
	for i := 1; i < len(area); i++ {
		r.LineTo(place(i))
	}
	r.ClosePath()
}

// signedArea is twice the area, positive when it turns from x to y.
func signedArea(area []point) (sum float64) {
	for i, p := range area {
		q := area[(i+1)%len(area)]
		sum += p.x*q.y - q.x*p.y
	}
	return sum
}

// fillRect fills whole pixels.
func fillRect(img *image.RGBA, r image.Rectangle, colour color.RGBA) {
	draw.Draw(img, r, image.NewUniform(colour), image.Point{}, draw.Src)
}
