package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/raster"
)

// A walk is a straight line on the target plane, at a right angle to a curve. Light is
// read along it at even distances s from the curve, outward positive, and the curve's
// edge is where that light changes most: an extremum of its derivative. Walks are
// straight on the plane and not on the photo, so that the edge found on one is a place
// on the target whatever the perspective.

// path is one walk with the light along it.
type path struct {
	at          func(s float64) conic.Point // s in mm across the curve, rising outward
	pxPerMM     float64                     // of the photo, along the walk
	from, step  float64                     // mm: place of the first sample, distance between samples
	values, der []float64                   // light, and its smoothed derivative per sample
}

// curve is one curve of the target plane, to be crossed at many places.
type curve struct {
	at     func(i int, s float64) conic.Point // i-th walk, s mm outward of the curve
	n      int                                // walks, about one raster pixel apart
	closed bool                               // the last walk is the first one's neighbour
	reach  float64                            // mm: how far a walk goes to either side
	lineMM float64                            // width of the line to be found, 0: a step
	smooth int                                // walks that are averaged
	plane  []float32                          // what is sampled, nil: the light
}

// cross samples all walks, averages neighbours, and takes smoothed derivatives
// of every third of five: closer ones would only repeat the same light. A mean of k
// walks has 1/√k of the noise of one. What comes back is in the walks' order; those
// too short for their derivative, which lie near the plane's horizon, are left out.
func (f face) cross(c curve) []path {
	raw := make([]path, c.n)
	raster.InBands(c.n, func(from, to int) {
		for i := from; i < to; i++ {
			raw[i] = f.walk(c, i)
		}
	})
	var out []path
	for i := 0; i < c.n; i += max(1, int(f.set.KeptShare*float64(c.smooth))) {
		p := raw[i]
		p.values = c.averaged(raw, i)
		// The standard deviation of the derivative's Gaussian, in samples: of the line's
		// width in raster px, times the samples for each.
		sigma := f.set.SamplesPerPx * max(f.set.LeastBlurPx, f.set.BlurShare*c.lineMM*p.pxPerMM/f.pxRatio())
		if !(sigma < float64(len(p.values))/f.set.LeastSigmas) { // beyond the plane's horizon, or nearly
			continue
		}
		p.der = derivative(p.values, sigma)
		out = append(out, p)
	}
	return out
}

// walk samples one crossing of the curve. The photo's scale along it is the
// derivative at the curve itself, |dp/ds| by central differences. Samples lie evenly
// in mm, at the distance that is 1/SamplesPerPx of a raster px at the rings' centre.
// Beside the photo they are not numbers.
func (f face) walk(c curve, i int) path {
	const d = 0.01 // mm, a small part of any line: the derivative's error goes with its square
	at := func(s float64) conic.Point { return c.at(i, s) }
	a, b := at(-d), at(d)
	p := path{at: at, pxPerMM: math.Hypot(b.X-a.X, b.Y-a.Y) / (2 * d), from: -c.reach}
	p.step = f.pxRatio() / (f.set.SamplesPerPx * f.PxPerMM())
	n := int(2*c.reach/p.step) + 1
	plane := c.plane
	if plane == nil {
		plane = f.raster.Light
	}
	p.values = make([]float64, min(n, f.set.MostSamples))
	for j := range p.values {
		p.values[j] = f.raster.Sample(plane, at(p.from+float64(j)*p.step))
	}
	return p
}

// averaged is the mean of walk i and its neighbours, half of them on either side. A
// closed curve goes on where it began; at the ends of an open one there are fewer.
func (c curve) averaged(raw []path, i int) []float64 {
	out := make([]float64, len(raw[i].values))
	half, used := c.smooth/2, 0.0
	for k := i - half; k <= i+half; k++ {
		j := k
		if c.closed {
			j = (k + c.n) % c.n
		} else if j < 0 || j >= c.n {
			continue
		}
		used++
		for s, v := range raw[j].values {
			out[s] += v
		}
	}
	for s := range out {
		out[s] /= used
	}
	return out
}

// derivative convolves with the derivative of a Gaussian; the ends repeat. The
// kernel k exp(-k²/2σ²) is scaled so that a ramp of slope 1 gives 1. A step has its
// extremum at the edge; this kernel is nearly the best for a step in noise by signal and
// by place (J. Canny, PAMI 8 (1986) 679).
func derivative(v []float64, sigma float64) []float64 {
	half := int(math.Ceil(3 * sigma)) // beyond 3σ the kernel is a hundredth of its height
	kernel := make([]float64, half+1)
	norm := 0.0
	for k := 1; k <= half; k++ {
		kernel[k] = float64(k) * math.Exp(-float64(k*k)/(2*sigma*sigma))
		norm += 2 * float64(k) * kernel[k]
	}
	out := make([]float64, len(v))
	for i := range v {
		for k := 1; k <= half; k++ {
			out[i] += kernel[k] * (v[min(i+k, len(v)-1)] - v[max(i-k, 0)]) / norm
		}
	}
	return out
}

// extrema lists the derivative's local extrema of sign s: place (mm) and height.
// Through three samples a, b, c about an extremum goes one parabola; its vertex lies
// t = (a - c)/(2 (a - 2b + c)) samples from the middle one and is b - (a - c) t/4 high.
//
// A blurred step's derivative is a bell, which is nearly a parabola about its top.
func (p *path) extrema(s float64) (places, heights []float64) {
	for i := 1; i+1 < len(p.der); i++ {
		a, b, c := s*p.der[i-1], s*p.der[i], s*p.der[i+1]
		if b > 0 && b >= a && b > c {
			t := 0.5 * (a - c) / (a - 2*b + c)
			places = append(places, p.from+(float64(i)+t)*p.step)
			heights = append(heights, b-0.25*(a-c)*t)
		}
	}
	return places, heights
}

// strongest is the strongest step of the wanted sign (0: either) within reach: its
// place (mm) and its height; both 0 where there is none.
func (p *path) strongest(sign, reach float64) (place, height float64) {
	for _, s := range []float64{-1, 1} {
		if sign*s < 0 {
			continue
		}
		places, heights := p.extrema(s)
		for i := range places {
			if math.Abs(places[i]) <= reach && heights[i] > height {
				place, height = places[i], heights[i]
			}
		}
	}
	return place, height
}

// value is the sample nearest to s.
func (p *path) value(s float64) float64 {
	i := int(math.Round((s - p.from) / p.step))
	return p.values[min(max(i, 0), len(p.values)-1)]
}
