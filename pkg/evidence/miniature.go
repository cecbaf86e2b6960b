package evidence

import (
	"math"

	"burngauge.dev/burngauge/pkg/report"
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

// draw is one station's target with the burn, the earlier burn and the pointer.
func (k miniatures) draw(e entry, title string) drawing {
	d := drawing{Reach: k.reach, Up: k.up, Title: title}
	d.Shapes = append(d.Shapes, k.spot(burn(e.now), k.burnLook())...)
	d.Shapes = append(d.Shapes, k.printed()...)
	d.Shapes = append(d.Shapes, k.limit())
	d.Shapes = append(d.Shapes, k.spot(burn(e.before), k.earlierLook())...)
	d.Shapes = append(d.Shapes, k.dot(pointer(e.now))...)
	d.Shapes = append(d.Shapes, k.offset(burn(e.now))...)
	return d
}

// printed is the target itself: rings, cross, index bar and rim.
func (k miniatures) printed() []shape {
	line := look{Stroke: ringInk, Width: math.Min(k.spec.LineMM, fine*k.reach)}
	var out []shape
	for _, diameter := range k.spec.RingsMM {
		out = append(out, circle(0, 0, diameter/2, line))
	}
	if k.spec.RimMM > 0 {
		out = append(out, circle(0, 0, k.spec.RimMM/2, look{Stroke: paleInk, Width: fine * k.reach}))
	}
	if arm := k.spec.CrossMM; arm > 0 {
		out = append(out, polyline(line, [2]float64{-arm, 0}, [2]float64{arm, 0}), polyline(line, [2]float64{0, -arm}, [2]float64{0, arm}))
	}
	bar, r := k.spec.Index, k.spec.OuterRadius()
	fill := ringInk
	return append(out, box(-bar.WidthMM/2, -r-bar.ToMM, bar.WidthMM/2, -r-bar.FromMM, look{Fill: &fill}))
}

// limit is broken, which tells it from the rings.
func (k miniatures) limit() shape {
	dash := 2 * math.Pi * k.limitMM / 24 / 2 // 24 strokes around, as long as their gaps
	return circle(0, 0, k.limitMM, look{Stroke: limInk, Width: medium * k.reach, Dash: []float64{dash, dash}})
}

func (k miniatures) burnLook() look {
	fill := scorch
	return look{Stroke: burnInk, Width: medium * k.reach, Fill: &fill}
}

func (k miniatures) earlierLook() look {
	return look{Stroke: muted, Width: fine * k.reach, Dash: []float64{0.06 * k.reach, 0.05 * k.reach}}
}

// spot is a mark at its place and, when that is known, of its size; an arrow at
// the edge when it lies beyond the drawing.
func (k miniatures) spot(m *report.Measurement, l look) []shape {
	if m == nil || m.Offset == nil {
		return nil
	}
	x, y := m.Offset.RightMM, -m.Offset.UpMM
	if !k.holds(m) {
		return k.beyond(x, y, l)
	}
	if m.Size == nil || !(m.Size.MajorMM > 0 && m.Size.MinorMM > 0) {
		r := 0.05 * k.reach
		return []shape{circle(x, y, r, l)}
	}
	return []shape{{look: l, X: x, Y: y, RX: m.Size.MajorMM / 2, RY: m.Size.MinorMM / 2, Turn: -m.Size.AxisDeg}}
}

// holds says whether the whole mark lies in the drawing.
func (k miniatures) holds(m *report.Measurement) bool { return farOut(m) <= k.reach }

// beyond is an arrowhead at the edge, pointing to where the mark lies.
func (k miniatures) beyond(x, y float64, l look) []shape {
	far := math.Hypot(x, y)
	if !(far > 0) || math.IsInf(far, 0) {
		return nil
	}
	ux, uy := x/far, y/far
	at := func(along, across float64) [2]float64 {
		return [2]float64{k.reach * (ux*along - uy*across), k.reach * (uy*along + ux*across)}
	}
	l.Fill, l.Dash = &l.Stroke, nil
	return []shape{polyline(l, at(0.97, 0), at(0.8, 0.09), at(0.8, -0.09), at(0.97, 0))}
}

// offset is a line from the centre to the burn's, on a white one that parts it
// from what lies below, with the circle of its uncertainty at the end.
func (k miniatures) offset(m *report.Measurement) []shape {
	if m == nil || m.Offset == nil || !k.holds(m) {
		return nil
	}
	x, y := m.Offset.RightMM, -m.Offset.UpMM
	from, to := [2]float64{0, 0}, [2]float64{x, y}
	fill := ink
	out := []shape{
		polyline(look{Stroke: white, Width: 2.4 * medium * k.reach}, from, to),
		polyline(look{Stroke: ink, Width: medium * k.reach}, from, to),
		circle(x, y, 1.3*medium*k.reach, look{Fill: &fill}),
	}
	if u := radiusOf(m); u > 1.3*medium*k.reach && u < k.reach {
		out = append(out, circle(x, y, u, look{Stroke: ink, Width: fine * k.reach}))
	}
	return out
}

// dot is the pointer's place: a cross on its side, which no burn is drawn as.
func (k miniatures) dot(m *report.Measurement) []shape {
	if m == nil || m.Offset == nil {
		return nil
	}
	x, y, arm := m.Offset.RightMM, -m.Offset.UpMM, 0.06*k.reach
	if !k.holds(m) {
		return k.beyond(x, y, look{Stroke: redDot, Width: medium * k.reach})
	}
	return saltire(x, y, arm, look{Stroke: redDot, Width: 1.4 * medium * k.reach})
}

// saltire is a cross on its side.
func saltire(x, y, arm float64, l look) []shape {
	return []shape{
		polyline(l, [2]float64{x - arm, y - arm}, [2]float64{x + arm, y + arm}),
		polyline(l, [2]float64{x - arm, y + arm}, [2]float64{x + arm, y - arm}),
	}
}
