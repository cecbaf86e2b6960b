package ring

import (
	"math"
)

// UnknownLine looks between the rings for a line seen all round that the spec
// does not have.
func (f *Fit) UnknownLine() (radius float64, found bool) {
	line := f.Spec.LineMM * f.Softness()
	for r := 0.35 * f.Spec.InnerRadius(); r < f.Spec.OuterRadius()-line; r += 0.4 * line {
		near := false
		for _, d := range f.Spec.RingsMM {
			near = near || math.Abs(r-d/2) < 1.6*line+2*float64(f.raster.Factor)/f.PxPerMM()
		}
		if !near && f.lineShare(r, line) > strangeShare {
			return r, true
		}
	}
	return 0, false
}

// strangeShare is the net share of a circle on which a line of the rings' kind
// must be seen to be one: the mark, the cross and the tape never reach it.
const strangeShare = 0.55

// lineShare is the share of a circle with a line of the rings' kind on it,
// less the share with one of the other kind.
func (f *Fit) lineShare(radius, line float64) float64 {
	const n = 90
	score := 0
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		at := func(d float64) float64 {
			return f.raster.Sample(f.raster.Light, f.Pixel((radius+d)*c, (radius+d)*s))
		}
		middle := (at(-0.2*line) + at(0) + at(0.2*line)) / 3
		inner, outer := (at(-1.2*line)+at(-line))/2, (at(1.2*line)+at(line))/2
		a, b := f.Sign*(middle-inner), f.Sign*(middle-outer)
		limit := 0.04 * (inner + outer) / 2
		switch {
		case a > limit && b > limit:
			score++
		case a < -limit && b < -limit:
			score--
		}
	}
	return float64(score) / n
}

// RingAt is the spec's ring within so many mm of a radius, -1 when there is none.
func (f *Fit) RingAt(radius, within float64) int {
	for k, d := range f.Spec.RingsMM {
		if math.Abs(d/2-radius) < within {
			return k
		}
	}
	return -1
}
