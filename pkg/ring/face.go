package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/raster"
)

// Light is linear, 0..1 (pkg/raster), so that means of it and differences of it are
// those of the light itself and not of a tone curve's.

// face is the target's face in a photo: the plane, the cut-out of the photo on which
// light is read, and whether the lines are darker or lighter than what they are
// printed on.
type face struct {
	*Plane
	raster *raster.Raster
	sign   float64 // -1: dark lines, +1: light ones
	set    *Settings
}

// light is the light seen at a place (right, up, mm), 0..1, between the cut-out's pixels
// bilinearly; NaN off the cut-out.
func (f face) light(right, up float64) float64 {
	return f.raster.Sample(f.raster.Light, f.Pixel(right, up))
}

// pxRatio is how many photo px one px of the cut-out is wide.
func (f face) pxRatio() float64 { return float64(f.raster.Factor) }

// burntOut says whether a pixel shows nothing any more, in any colour: each channel
// stands at the top of its range, and what the light was beyond it is lost.
func (f face) burntOut(px conic.Point) bool {
	for _, plane := range f.raster.Colour {
		if !(f.raster.Sample(plane, px) > f.set.Saturated) {
			return false
		}
	}
	return true
}

// shine is the share of the face that is burnt out in all colours, sampled on a
// square grid within the outer ring.
func (f face) shine() float64 {
	const n = 40 // steps of a twentieth of the radius: a share to about a per cent
	bright, all := 0, 0
	place := func(i int) float64 { return (float64(i)/((n-1)/2.0) - 1) * f.Spec.OuterRadius() }
	for i := range n {
		for j := range n {
			x, y := place(i), place(j)
			if math.Hypot(x, y) > f.Spec.OuterRadius() {
				continue
			}
			all++
			if f.burntOut(f.Pixel(x, y)) {
				bright++
			}
		}
	}
	return float64(bright) / float64(all)
}

// lineShare is the share of a circle with a line of the rings' kind on it,
// less the share with one of the other kind: an edge, which has neither, and
// texture, which has as many of both, come to 0. There is a line at a place when the
// mean of the light within a line's width differs from that on both sides in the same
// sense, by a share of the light beside it.
func (f face) lineShare(radius, line float64) float64 {
	const n = 90 // every 4 degrees: a share to about a per cent
	score := 0
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		at := func(d float64) float64 { return f.light((radius+d)*c, (radius+d)*s) }
		near, far := f.set.StrangeCore*line, f.set.StrangeBeside*line
		middle := (at(-near) + at(0) + at(near)) / 3
		inner, outer := (at(-far)+at(-line))/2, (at(far)+at(line))/2
		a, b := f.sign*(middle-inner), f.sign*(middle-outer)
		limit := f.set.StrangeContrast * (inner + outer) / 2
		switch {
		case a > limit && b > limit:
			score++
		case a < -limit && b < -limit:
			score--
		}
	}
	return float64(score) / n
}
