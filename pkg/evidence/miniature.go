package evidence

import (
	"math"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/report/phrase"
	"burngauge.dev/burngauge/pkg/target"
)

// Strokes of a miniature, in parts of its reach: seen at 25 mm on paper and at
// 150 px on a phone.
const (
	fine   = 0.012
	medium = 0.022
)

// Most that a miniature's reach grows beyond the target for the sake of a mark
// far away; what lies beyond is shown by an arrow at the edge.
const mostReach = 1.6

// edge is the blank around the outermost thing, in parts of it.
const edge = 1.05

// miniatures draws targets to one scale, so that stations compare.
type miniatures struct {
	spec    target.Spec
	limitMM float64
	reach   float64 // mm from the centre, sideways and down
	up      float64 // mm upwards: the index bar too
}

// newMiniatures picks the scale by what the stations show.
func newMiniatures(spec target.Spec, limitMM float64, list []entry) miniatures {
	base := math.Max(spec.OuterRadius()+spec.LineMM/2, spec.RimMM/2)
	base = math.Max(base, math.Min(limitMM, base*mostReach))
	reach := base
	for _, e := range list {
		for _, m := range []*report.Measurement{burn(e.now), burn(e.before), pointer(e.now)} {
			if far := farOut(m); far <= base*mostReach {
				reach = math.Max(reach, far)
			}
		}
	}
	up := math.Max(reach, spec.OuterRadius()+spec.Index.ToMM)
	return miniatures{spec: spec, limitMM: limitMM, reach: reach * edge, up: up * edge}
}

// farOut is how far the mark's own edge lies from the centre, mm; 0 without a
// number.
func farOut(m *report.Measurement) float64 {
	if m == nil || m.Offset == nil {
		return 0
	}
	far := math.Hypot(m.Offset.RightMM, m.Offset.UpMM)
	if m.Size != nil {
		far += m.Size.MajorMM / 2
	}
	return far
}

// draw is one station's target with the burn, the earlier burn and the pointer. Its
// frame is in mm on the target: origin at the rings' centre, x right, y down.
func (k miniatures) draw(e entry, title string) drawing.Figure {
	f := drawing.Figure{Left: -k.reach, Top: -k.up, Wide: 2 * k.reach, Tall: k.up + k.reach, Title: title}
	f.Shapes = append(f.Shapes, k.spot(burn(e.now), k.burnStyle())...)
	f.Shapes = append(f.Shapes, k.printed()...)
	f.Shapes = append(f.Shapes, k.limit())
	f.Shapes = append(f.Shapes, k.spot(burn(e.before), k.earlierStyle())...)
	f.Shapes = append(f.Shapes, k.dot(pointer(e.now))...)
	f.Shapes = append(f.Shapes, k.offset(burn(e.now))...)
	return f
}

// printed is the target itself: rings, cross, index bar and rim.
func (k miniatures) printed() []drawing.Shape {
	style := drawing.Stroked(ringInk, math.Min(k.spec.LineMM, fine*k.reach))
	var out []drawing.Shape
	for _, diameter := range k.spec.RingsMM {
		out = append(out, drawing.Circle(0, 0, diameter/2, style))
	}
	if k.spec.RimMM > 0 {
		out = append(out, drawing.Circle(0, 0, k.spec.RimMM/2, drawing.Stroked(paleInk, fine*k.reach)))
	}
	if arm := k.spec.CrossMM; arm > 0 {
		out = append(out, drawing.Line(style, drawing.At(-arm, 0), drawing.At(arm, 0)), drawing.Line(style, drawing.At(0, -arm), drawing.At(0, arm)))
	}
	bar, r := k.spec.Index, k.spec.OuterRadius()
	return append(out, drawing.Box(drawing.At(-bar.WidthMM/2, -r-bar.ToMM), drawing.At(bar.WidthMM/2, -r-bar.FromMM), drawing.Filled(ringInk)))
}

// limitStrokes is how many strokes, with gaps as long, make the limit's circle.
const limitStrokes = 24

// limit is broken, which sets it off from the rings: of the circle's length 2 pi r,
// each stroke and each gap is a 48th.
func (k miniatures) limit() drawing.Shape {
	dash := 2 * math.Pi * k.limitMM / limitStrokes / 2
	return drawing.Circle(0, 0, k.limitMM, drawing.Stroked(limInk, medium*k.reach, dash, dash))
}

func (k miniatures) burnStyle() drawing.Style {
	style := drawing.Stroked(burnInk, medium*k.reach)
	style.Fill = &scorch
	return style
}

func (k miniatures) earlierStyle() drawing.Style {
	return drawing.Stroked(muted, fine*k.reach, 0.06*k.reach, 0.05*k.reach)
}

// spot is a mark at its place and, when that is known, of its size; an arrow at
// the edge when it lies beyond the drawing.
func (k miniatures) spot(m *report.Measurement, style drawing.Style) []drawing.Shape {
	if m == nil || m.Offset == nil {
		return nil
	}
	x, y := m.Offset.RightMM, -m.Offset.UpMM
	if !k.holds(m) {
		return k.beyond(x, y, style)
	}
	if m.Size == nil || !(m.Size.MajorMM > 0 && m.Size.MinorMM > 0) {
		return []drawing.Shape{drawing.Circle(x, y, 0.05*k.reach, style)}
	}
	return []drawing.Shape{drawing.Ellipse{Style: style, X: x, Y: y, RX: m.Size.MajorMM / 2, RY: m.Size.MinorMM / 2, Turn: -m.Size.AxisDeg}}
}

// holds says whether the whole mark lies in the drawing.
func (k miniatures) holds(m *report.Measurement) bool { return farOut(m) <= k.reach }

// beyond is an arrowhead at the edge, pointing to where the mark lies: along the unit
// vector u to the mark, and across it along u turned by a right angle.
func (k miniatures) beyond(x, y float64, style drawing.Style) []drawing.Shape {
	far := math.Hypot(x, y)
	if !(far > 0) || math.IsInf(far, 0) {
		return nil
	}
	ux, uy := x/far, y/far
	at := func(along, across float64) drawing.Point {
		return drawing.At(k.reach*(ux*along-uy*across), k.reach*(uy*along+ux*across))
	}
	style.Fill, style.Dash = &style.Stroke, nil
	return []drawing.Shape{drawing.Polygon(style, at(0.97, 0), at(0.8, 0.09), at(0.8, -0.09))}
}

// offset is a line from the centre to the burn's, on a white one that separates it
// from what lies below, with the circle of its uncertainty at the end.
func (k miniatures) offset(m *report.Measurement) []drawing.Shape {
	if m == nil || m.Offset == nil || !k.holds(m) {
		return nil
	}
	const dot = 1.3 * medium
	x, y := m.Offset.RightMM, -m.Offset.UpMM
	centre, end := drawing.Point{}, drawing.At(x, y)
	out := []drawing.Shape{
		drawing.Line(drawing.Stroked(drawing.White, 2.4*medium*k.reach), centre, end),
		drawing.Line(drawing.Stroked(ink, medium*k.reach), centre, end),
		drawing.Circle(x, y, dot*k.reach, drawing.Filled(ink)),
	}
	if u := phrase.Radius(m); u > dot*k.reach && u < k.reach {
		out = append(out, drawing.Circle(x, y, u, drawing.Stroked(ink, fine*k.reach)))
	}
	return out
}

// dot is the pointer's place: a cross on its side, which no burn is drawn as.
func (k miniatures) dot(m *report.Measurement) []drawing.Shape {
	if m == nil || m.Offset == nil {
		return nil
	}
	x, y, arm := m.Offset.RightMM, -m.Offset.UpMM, 0.06*k.reach
	if !k.holds(m) {
		return k.beyond(x, y, drawing.Stroked(redDot, medium*k.reach))
	}
	return saltire(x, y, arm, drawing.Stroked(redDot, 1.4*medium*k.reach))
}

// saltire is a cross on its side.
func saltire(x, y, arm float64, style drawing.Style) []drawing.Shape {
	return []drawing.Shape{
		drawing.Line(style, drawing.At(x-arm, y-arm), drawing.At(x+arm, y+arm)),
		drawing.Line(style, drawing.At(x-arm, y+arm), drawing.At(x+arm, y-arm)),
	}
}
