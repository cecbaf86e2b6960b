package ring

import (
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/stat"
)

// feature is one straight or round thing on the target whose edge is traced.
type feature int

const (
	lineFeature  feature = iota // a ring's line: both flanks, their middle counts
	rimFeature                  // the step at the target's round edge
	indexFeature                // one side of the index bar
)

// group is one curve: all traces on it share one scatter, since they share sharpness,
// contrast and what lies over them.
type group struct {
	kind  feature
	which int // ring number, or side of the index bar
}

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

func (t trace) group() group { return group{t.kind, t.which} }

// tracer finds the edges of the target's curves near where the plane has them.
// Everything it finds is on the photo and does not depend on the fit but for where
// it looked.
type tracer struct {
	face
	sparse bool            // at every third place, and less strict: the way is still being found
	noise  map[int]float64 // slope of noise and texture about each ring, measured once; written to
	looked map[group]int   // places looked at, of each curve; written to
	log    *decision.Log   // of what is decided edge by edge
}

// circles traces all rings within reach mm, and the rim a little farther: nothing
// stands beside it that could be taken for it. Traces come in the order of the rings,
// and on each in the order of the angle: neighbours in the list are neighbours on the
// curve (problem.inflation counts on it).
func (t *tracer) circles(reach float64) []trace {
	var out []trace
	for k := range t.Spec.RingsMM {
		out = append(out, t.ring(k, reach)...)
	}
	if t.Spec.RimMM > 0 {
		out = append(out, t.rim(t.set.RimReach*reach)...)
	}
	return out
}

// circle is the curve of a radius about the rings' centre, mm: the place s outward of
// it at the angle φ, counter-clockwise from right, is (radius + s)(cos φ, sin φ). It is
// crossed about once for each raster px of its circumference.
func (t *tracer) circle(radius, reach, line float64) curve {
	circumference := 2 * math.Pi * radius * t.PxPerMM() / t.pxRatio() // raster px
	n := min(max(int(circumference), t.set.LeastWalks), t.set.MostWalks)
	if t.sparse {
		n = max(n/t.set.SparseEvery, t.set.LeastWalks)
	}
	return curve{
		at: func(i int, s float64) conic.Point {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			return t.Pixel((radius+s)*cos, (radius+s)*sin)
		},
		n: n, closed: true, reach: reach, lineMM: line,
		smooth: max(t.set.LeastSmooth, int(t.set.SmoothShare*line*t.PxPerMM()/t.pxRatio())),
	}
}

// ring finds the line of ring k round the whole circle, within reach mm of where
// the plane has it. Walks go farther than that by more than the line's width, since
// the flanks of a line at the end of the reach lie beyond it.
func (t *tracer) ring(k int, reach float64) []trace {
	radius := t.Spec.RingsMM[k] / 2
	walks := t.cross(t.circle(radius, reach+t.set.WalkMargin*t.Spec.LineMM, t.Spec.LineMM))
	search := t.lineSearch(reach, t.ringNoise(k, reach))
	search.record(t.ringLog(k), t.set)
	var out []trace
	for i := range walks {
		if found, ok := search.on(&walks[i]); ok {
			found.which, found.angle = k, 2*math.Pi*float64(i)/float64(len(walks))
			out = append(out, found)
		}
	}
	search.weak.Record()
	search.lopsided.Record()
	t.looked[group{lineFeature, k}] = len(walks)
	return out
}

// ringNoise is the slope of noise and texture about ring k, as the derivative of a walk
// has it, light for each sample. It is measured once, over walks long enough that the
// line is the lesser part of them: the reach narrows later, until a walk is line alone.
func (t *tracer) ringNoise(k int, reach float64) float64 {
	noise, known := t.noise[k]
	if !known {
		radius, line := t.Spec.RingsMM[k]/2, t.Spec.LineMM
		far := min(t.set.NoiseReachRadius*radius, reach+t.set.NoiseReachLines*line)
		noise = quietSlope(t.cross(t.circle(radius, far, line)), t.set)
		t.noise[k] = noise
	}
	return noise
}

// normalAtNoiseQuantile is the 0.3 quantile of |N(0, 1)|, Φ⁻¹(0.65) = 0.38532, to
// four digits: NoiseQuantile over this is a standard deviation.
const normalAtNoiseQuantile = 0.3853

// quietSlope is the spread of the derivative where nothing but noise and texture is:
// taken from the smaller of its values, since the line itself may take half of a
// walk. For normal noise of the standard deviation σ the q-quantile of the size is
// σ Φ⁻¹((1+q)/2); the line only adds large values, which move a low quantile little.
// Infinite where there is nothing to see.
func quietSlope(walks []path, set *Settings) float64 {
	var all []float64
	for i := range walks {
		for j := 0; j < len(walks[i].der); j += set.NoiseStride {
			if v := walks[i].der[j]; !math.IsNaN(v) {
				all = append(all, math.Abs(v))
			}
		}
	}
	if len(all) == 0 {
		return math.Inf(1)
	}
	return stat.Quantile(all, set.NoiseQuantile) / normalAtNoiseQuantile
}

// rim finds the step of the target's round edge, in whichever colour it is
// strongest: tape and table may be equally light. Which side is the lighter one is
// not known, so steps of both signs count. All walks have a place in the list until
// the weak ones are left out, so that the colours can be compared walk by walk.
func (t *tracer) rim(reach float64) []trace {
	c := t.circle(t.Spec.RimMM/2, reach+t.set.RimMarginMM, 0)
	var out []trace
	for _, plane := range t.raster.Colour {
		c.plane = plane
		walks := t.cross(c)
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
	t.looked[group{rimFeature, 0}] = len(out)
	return strongOnes(out, t.set)
}

// strongOnes drops steps far weaker than most: texture where the edge is hidden. What
// most are is read from a high quantile of all, which is that of a visible place as long
// as not nearly all are hidden.
func strongOnes(all []trace, set *Settings) []trace {
	if len(all) == 0 {
		return nil
	}
	slopes := make([]float64, len(all))
	for i, t := range all {
		slopes[i] = t.slope
	}
	limit := set.LeastStep * stat.Quantile(slopes, set.StepQuantile)
	return slices.DeleteFunc(all, func(t trace) bool { return t.slope < limit })
}
