package flat

import (
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/spot/cells"
)

// Span is what a printed line hides at one place: the value between those of
// the line's two sides, and these.
type Span struct{ Value, Low, High float64 }

// between is linear from a (t = 0) to b (t = 1).
func between(a, b, t float64) Span { return Span{a + t*(b-a), min(a, b), max(a, b)} }

// SpanAt is what a line hides of the field's values at a place; false off the
// lines. Values are linear between the line's two sides, along its normal, so
// that an edge that crosses the line is not pulled along it.
func (p Print) SpanAt(f *Field, values []float64, x, y float64) (Span, bool) {
	rx, ry := x-p.dx, y-p.dy
	r := math.Hypot(rx, ry)
	if k := p.ringAt(r); k >= 0 && r > 0 {
		return p.acrossRing(f, values, k, rx, ry), true
	}
	half := p.armHalfMM()
	switch p.armAt(rx, ry) {
	case alongX:
		a, b := f.Sample(values, x, p.dy-half), f.Sample(values, x, p.dy+half)
		return between(a, b, (ry+half)/(2*half)), true
	case alongY:
		return p.acrossUpright(f, values, rx, y), true
	case bothArms: // from the four corners where the arms meet
		below, above := p.acrossUpright(f, values, rx, p.dy-half), p.acrossUpright(f, values, rx, p.dy+half)
		s := between(below.Value, above.Value, (ry+half)/(2*half))
		return Span{s.Value, min(below.Low, above.Low), max(below.High, above.High)}, true
	}
	return Span{}, false
}

// acrossRing bridges a ring's line at a place relative to the print's centre,
// along the radius from radius - half to radius + half.
func (p Print) acrossRing(f *Field, values []float64, ring int, rx, ry float64) Span {
	r, half := math.Hypot(rx, ry), p.RingHalfMM()
	radius := p.fit.Spec.RingsMM[ring] / 2
	inner, outer := max(0, (radius-half)/r), (radius+half)/r
	a := f.Sample(values, p.dx+inner*rx, p.dy+inner*ry)
	b := f.Sample(values, p.dx+outer*rx, p.dy+outer*ry)
	return between(a, b, (r-radius+half)/(2*half))
}

// acrossUpright bridges the upright arm of the cross from its left side to its
// right; rx is relative to the print's centre, y is not.
func (p Print) acrossUpright(f *Field, values []float64, rx, y float64) Span {
	half := p.armHalfMM()
	a, b := f.Sample(values, p.dx-half, y), f.Sample(values, p.dx+half, y)
	return between(a, b, (rx+half)/(2*half))
}

// Bridged is the field's light with ring lines and cross bridged from their
// sides, and NaN on the index bar.
func (p Print) Bridged(f *Field) []float64 {
	out := slices.Clone(f.Light)
	cells.InRows(f.N, func(j int) {
		for i := range f.N {
			x, y := f.Place(i, j)
			k := j*f.N + i
			if p.OnBar(x, y) {
				out[k] = math.NaN()
			} else if s, ok := p.SpanAt(f, f.Light, x, y); ok {
				out[k] = s.Value
			}
		}
	})
	return out
}
