package overlay

import (
	"math"
	"strconv"

	"burngauge.dev/burngauge/pkg/report"
)

// lineSample shows a pen: three dashes of a dashed one, two of long ones.
func lineSample(look pen) *sample {
	long := float64(sampleLong)
	if look.dash > 0 {
		long = 3*look.dash + 2*look.gap
		if long > 1.5*sampleLong {
			long = 2*look.dash + look.gap
		}
	}
	return &sample{units: long + 2*casingWidth, paint: func(c *canvas, place box) {
		m, half := place.middle(), (long/2-0.01)*c.unit // not quite: the last dash ends before the next begins
		c.draw(figure{pen: look, lines: []path{{points: []point{m.sub(point{half, 0}), m.add(point{half, 0})}}}})
	}}
}

// markSample shows a mark's arrow and its outline.
func markSample(mark string) *sample {
	return &sample{units: markLong, paint: func(c *canvas, place box) {
		m, radius := place.middle(), 16*c.unit
		right := point{place.max.x - radius - 4*c.unit, m.y}
		c.draw(figure{pen: markPen(mark), lines: []path{circle(right, radius, 60)}})
		c.draw(c.arrow(point{place.min.x + casingWidth*c.unit, m.y}, right.sub(point{radius + 12*c.unit, 0}), mark))
	}}
}

// warningSample is a triangle with a stroke and a dot in it.
var warningSample = &sample{units: markLong, paint: func(c *canvas, place box) {
	m, r := place.middle(), 20*c.unit
	top, foot := m.add(point{0, -r}), m.add(point{0, 0.8 * r})
	side := point{1.15 * r, 0}
	c.draw(figure{pen: pen{colour: yellow}, areas: []path{{points: []point{top, foot.add(side), foot.sub(side)}}}})
	c.fill(ribbon(path{points: []point{m.add(point{0, -0.42 * r}), m.add(point{0, 0.22 * r})}}, 5*c.unit), casing)
	c.fill([][]point{disc(m.add(point{0, 0.5 * r}), 3.2*c.unit)}, casing)
}}

// barLengths, in their unit, are tried in this order: 5 mm or a fifth of an inch,
// and others where that is too long or too short to see.
var barLengths = map[report.Units][]float64{
	report.Millimetres: {5, 2, 1, 0.5, 0.2, 10, 20, 50, 100},
	report.Inches:      {0.2, 0.1, 0.05, 0.02, 0.01, 0.5, 1, 2, 5},
}

// scaleBar is a bar as long as it says at the target's centre, measured level in
// the picture: a tilted target has another scale in each direction.
func (s *scene) scaleBar(v view) (piece, bool) {
	const shortest, longest = 24, 500 // px
	perMM, ok := s.levelScale(v)
	if !ok {
		return piece{}, false
	}
	unit := report.Units(s.units.Name())
	for _, length := range barLengths[unit] {
		if long := length * perMM / unit.From(1); long >= shortest && long <= longest {
			return piece{text: strconv.FormatFloat(length, 'g', -1, 64) + " " + unit.Name(), sample: &sample{px: long, paint: paintBar}}, true
		}
	}
	return piece{}, false
}

// levelScale is how many px of the picture, to the right, one mm at the target's
// centre takes. With J the derivative of the place in the picture by the place
// on the target, it is 1 / |J^-1 (1, 0)|.
func (s *scene) levelScale(v view) (float64, bool) {
	const step = 0.01 // mm: small beside the target, large beside rounding
	at := func(right, up float64) point { x, y := s.res.ToPixel(right, up); return v.at(x, y) }
	a := at(step, 0).sub(at(-step, 0)).times(0.5 / step)
	b := at(0, step).sub(at(0, -step)).times(0.5 / step)
	scale := math.Abs(a.x*b.y-b.x*a.y) / math.Hypot(b.y, a.y)
	return scale, scale > 0 && !math.IsInf(scale, 0)
}

// paintBar draws a bar with upright ends. Its length is from middle to middle of
// them.
func paintBar(c *canvas, place box) {
	m, half, end := place.middle(), place.size().x/2, 12*c.unit
	var lines []path
	for _, x := range []float64{m.x - half, m.x + half} {
		lines = append(lines, path{points: []point{{x, m.y - end}, {x, m.y + end}}})
	}
	lines = append(lines, path{points: []point{{m.x - half, m.y}, {m.x + half, m.y}}})
	width := 5 * c.unit
	for _, line := range lines {
		c.fill(ribbon(line, width), ink)
	}
}
