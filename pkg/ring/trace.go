package ring

import (
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/stat"
)

// feature is one straight or round thing on the target whose edge is traced.
type feature int

const (
	lineFeature  feature = iota // a ring's line: both flanks, their middle counts
	rimFeature                  // the step at the target's round edge
	indexFeature                // one side of the index bar
)

// trace is one place found on the photo, of a curve known on the target.
type trace struct {
	px      conic.Point
	kind    feature
	which   int     // ring number, or side of the index bar
	angle   float64 // where on the ring (radians) or how far along the side (mm)
	pxPerMM float64 // across the curve
	widthMM float64 // between the flanks, lines only
	slope   float64 // strength of the weaker flank
}

// path is a straight walk across a curve on the target plane.
type path struct {
	at          func(s float64) conic.Point // s in mm across the curve, rising outward
	pxPerMM     float64                     // of the photo, along the walk
	from, step  float64                     // mm: place of the first sample, distance between samples
	values, der []float64
}

// samplesPerPx of the raster along a walk: twice the pixel rate loses nothing.
const samplesPerPx = 2

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
// of every third of five: closer ones would only repeat the same light.
func (f *Fit) cross(c curve) []path {
	raw := make([]path, c.n)
	raster.InBands(c.n, func(from, to int) {
		for i := from; i < to; i++ {
			raw[i] = f.walk(c, i)
		}
	})
	var out []path
	for i := 0; i < c.n; i += max(1, c.smooth*3/5) {
		p := raw[i]
		p.values = c.averaged(raw, i)
		sigma := samplesPerPx * max(0.8, 0.35*c.lineMM*p.pxPerMM/float64(f.raster.Factor))
		if !(sigma < float64(len(p.values))/6) { // beyond the plane's horizon, or nearly
			continue
		}
		p.der = derivative(p.values, sigma)
		out = append(out, p)
	}
	return out
}

func (f *Fit) walk(c curve, i int) path {
	at := func(s float64) conic.Point { return c.at(i, s) }
	a, b := at(-0.01), at(0.01)
	p := path{at: at, pxPerMM: math.Hypot(b.X-a.X, b.Y-a.Y) / 0.02, from: -c.reach}
	p.step = float64(f.raster.Factor) / (samplesPerPx * f.PxPerMM())
	n := int(2*c.reach/p.step) + 1
	plane := c.plane
	if plane == nil {
		plane = f.raster.Light
	}
	p.values = make([]float64, min(n, mostSamples))
	for j := range p.values {
		p.values[j] = f.raster.Sample(plane, at(p.from+float64(j)*p.step))
	}
	return p
}

// mostSamples bounds a walk whose pose has gone astray.
const mostSamples = 2000

// averaged is the mean of walk i and its neighbours.
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

// derivative convolves with the derivative of a Gaussian; the ends repeat.
func derivative(v []float64, sigma float64) []float64 {
	half := int(math.Ceil(3 * sigma))
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

// extrema lists the local extrema of sign s, sub-sample by a parabola: place
// (mm) and height.
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

// leastSmooth is the number of neighbouring walks, a raster pixel apart, that
// are averaged: enough against a phone's noise, too few to flatten a ring of
// 20 px radius by a tenth of a pixel.
const leastSmooth = 5

// circle is the curve of a radius about the rings' centre.
func (f *Fit) circle(radius, reach, line float64) curve {
	circumference := 2 * math.Pi * radius * f.PxPerMM() / float64(f.raster.Factor) // raster px
	n := min(max(int(circumference), 90), 720)
	if f.sparse {
		n = max(n/3, 90)
	}
	return curve{
		at: func(i int, s float64) conic.Point {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			return f.Camera.Project(f.Pose, (radius+s)*cos, (radius+s)*sin)
		},
		n: n, closed: true, reach: reach, lineMM: line, smooth: max(leastSmooth, int(0.4*line*f.PxPerMM()/float64(f.raster.Factor))),
	}
}

// traceRing finds the line of ring k round the whole circle, within reach mm
// of where the pose has it, and the fraction of places looked at where it is.
func (f *Fit) traceRing(k int, reach float64) []trace {
	line := f.Spec.LineMM
	radius := f.Spec.RingsMM[k] / 2
	walks := f.cross(f.circle(radius, reach+1.3*line, line))
	noise, known := f.noise[k]
	if !known { // measured once, over walks long enough that the line is the lesser part of them
		noise = quietSlope(f.cross(f.circle(radius, min(0.8*radius, reach+4*line), line)))
		f.noise[k] = noise
	}
	var out []trace
	for i := range walks {
		if t, ok := f.lineAt(&walks[i], reach, line, noise, walks[i].pxPerMM); ok {
			t.which, t.angle = k, 2*math.Pi*float64(i)/float64(len(walks))
			out = append(out, t)
		}
	}
	f.looked[group{lineFeature, k}] = len(walks)
	return out
}

// quietSlope is the spread of the derivative where nothing but noise and
// texture is: told from the smaller of its values, since the line itself may
// take half of a walk.
func quietSlope(walks []path) float64 {
	var all []float64
	for i := range walks {
		for j := 0; j < len(walks[i].der); j += 3 {
			if v := walks[i].der[j]; !math.IsNaN(v) {
				all = append(all, math.Abs(v))
			}
		}
	}
	if len(all) == 0 {
		return math.Inf(1)
	}
	return stat.Quantile(all, 0.3) / 0.3853 // the 0.3 quantile of |N(0,1)|
}

// lineAt finds the pair of flanks that makes the best line on one walk.
func (f *Fit) lineAt(p *path, reach, line, noise, pxPerMM float64) (trace, bool) {
	inner, a := p.extrema(f.Sign)                                  // a dark line falls at its inner flank
	outer, b := p.extrema(-f.Sign)                                 // and rises at its outer one
	seen := math.Hypot(line, 2.2*float64(f.raster.Factor)/pxPerMM) // a blurred line is no narrower than this, mm
	tilted := mostLopsided
	if f.sparse { // while the way is still being found any line helps
		tilted *= 3
	}
	best, result := 0.0, trace{}
	for i := range inner {
		for j := range outer {
			width, middle := outer[j]-inner[i], (outer[j]+inner[i])/2
			strength := min(a[i], b[j])
			if width < 0.45*line || width > 1.9*seen || math.Abs(middle) > reach || strength < 1.5*noise || p.lopsided(inner[i], outer[j], tilted) {
				continue
			}
			// Of two lines the nearer one is meant, if nearly as strong.
			if score := strength * (1 - 0.4*math.Abs(middle)/reach); score > best {
				best = score
				result = trace{px: p.at(middle), kind: lineFeature, pxPerMM: pxPerMM, widthMM: width, slope: strength}
			}
		}
	}
	return result, best > 0 && !math.IsNaN(result.px.X)
}

// lopsided tells whether the light on the two sides of a line differs so much
// (a tape's edge, a shadow, the mark's) that the line's middle is pulled.
func (p *path) lopsided(inner, outer, most float64) bool {
	width := outer - inner
	a, line, b := p.value(inner-0.5*width), p.value((inner+outer)/2), p.value(outer+0.5*width)
	return math.Abs(a-b) > most*min(math.Abs(a-line), math.Abs(b-line))
}

// mostLopsided is that difference over the line's own contrast: half of it
// moves the flanks' middle by about a twentieth of the line's width.
const mostLopsided = 0.5

// value is the sample nearest to s.
func (p *path) value(s float64) float64 {
	i := int(math.Round((s - p.from) / p.step))
	return p.values[min(max(i, 0), len(p.values)-1)]
}

// traceRim finds the step of the target's round edge, in whichever colour it
// is strongest: tape and table may be equally light.
func (f *Fit) traceRim(reach float64) []trace {
	c := f.circle(f.Spec.RimMM/2, reach+0.3, 0)
	var out []trace
	for _, plane := range f.raster.Colour {
		c.plane = plane
		walks := f.cross(c)
		if out == nil {
			out = make([]trace, len(walks))
		}
		for i := range walks {
			p := &walks[i]
			if place, height := p.strongest(0, reach); height > out[i].slope {
				angle := 2 * math.Pi * float64(i) / float64(len(walks))
				out[i] = trace{px: p.at(place), kind: rimFeature, angle: angle, pxPerMM: p.pxPerMM, slope: height}
			}
		}
	}
	f.looked[group{rimFeature, 0}] = len(out)
	return strongOnes(out)
}

// strongest is the strongest step of the wanted sign (0: either) within reach.
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

// strongOnes drops steps far weaker than most: texture where the edge is hidden.
func strongOnes(all []trace) []trace {
	if len(all) == 0 {
		return nil
	}
	slopes := make([]float64, len(all))
	for i, t := range all {
		slopes[i] = t.slope
	}
	limit := 0.2 * stat.Quantile(slopes, 0.7)
	return slices.DeleteFunc(all, func(t trace) bool { return t.slope < limit })
}
