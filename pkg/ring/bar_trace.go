package ring

import "burngauge.dev/burngauge/pkg/conic"

// The bar is a rectangle, its middle line the target's up. Each of its sides is crossed
// by walks at a right angle to it and is one curve of its own in the fit: the two long
// ones fix its direction, and with it the target's roll, the two ends its distance from
// the centre. Unlike a ring's line, a side is a single step, which a phone's sharpening
// may move; what is known of the bar's half width and half length is widened for that
// (model.departureU).

// sideWalk is how one side of the index bar is crossed.
type sideWalk struct {
	half float64                                    // length along the side from its middle, mm; its ends are left out
	at   func(along, across float64) (x, y float64) // mm, across outward
}

// barWalks are those of the four sides, in their order, where the spec has them.
func (t *tracer) barWalks() [barSides]sideWalk {
	from, to := t.barEnds()
	width, length := t.Spec.Index.WidthMM, to-from
	along, across := t.set.BarSideShare*length, t.set.BarEndShare*width
	return [barSides]sideWalk{
		leftSide:  {along, func(l, d float64) (float64, float64) { return -width/2 - d, from + length/2 + l }},
		rightSide: {along, func(l, d float64) (float64, float64) { return width/2 + d, from + length/2 + l }},
		innerEnd:  {across, func(l, d float64) (float64, float64) { return l, from - d }},
		outerEnd:  {across, func(l, d float64) (float64, float64) { return l, to + d }},
	}
}

// bar finds the bar's four sides within reach mm of where the plane has them.
func (t *tracer) bar(reach float64) []trace {
	var out []trace
	for s, walk := range t.barWalks() {
		out = append(out, t.barSide(side(s), walk, reach)...)
	}
	return out
}

// barSide finds one side: outward, a dark bar ends in light, so that the step's sign
// is known. Walks lie evenly from one end of what is walked to the other, about one
// raster px apart.
func (t *tracer) barSide(s side, walk sideWalk, reach float64) []trace {
	n := min(max(int(2*walk.half*t.PxPerMM()/t.pxRatio()), t.set.LeastBarWalks), t.set.MostBarWalks)
	along := func(i int) float64 { return walk.half * (2*float64(i)/float64(n-1) - 1) }
	walks := t.cross(curve{
		at: func(i int, across float64) conic.Point {
			x, y := walk.at(along(i), across)
			return t.Pixel(x, y)
		},
		n: n, reach: reach + t.set.BarMarginMM, smooth: t.set.BarSmooth,
	})
	var found []trace
	for i := range walks {
		p := &walks[i]
		if place, height := p.strongest(-t.sign, reach); height > 0 {
			found = append(found, trace{px: p.at(place), kind: indexFeature, which: int(s), angle: along(i), pxPerMM: p.pxPerMM, slope: height})
		}
	}
	return strongOnes(found, t.set)
}
