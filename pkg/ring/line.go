package ring

import (
	"math"

	"burngauge.dev/burngauge/pkg/decision"
)

// lineSearch finds one ring's line on a walk across it: a pair of flanks of opposite
// sign, as far apart as the line is wide. A line from -w/2 to +w/2 under a symmetric
// blur has its flanks at ±(w/2 + b), with b the same on both sides: blur, tone curve
// and sharpening, which move a single step by up to half a pixel, leave the middle of
// the two where it is. Hence a ring is placed by its line's middle, never by an edge.
type lineSearch struct {
	face
	reach        float64 // mm: how far from the walk's middle the line may lie
	noise        float64 // slope of noise and texture
	mostLopsided float64

	weak, lopsided *decision.Tally // nil: not recorded
}

// lineSearch is one within reach mm, against this slope of noise. While the way is
// still being found any line helps, and lopsided ones are taken.
func (t *tracer) lineSearch(reach, noise float64) *lineSearch {
	s := &lineSearch{face: t.face, reach: reach, noise: noise, mostLopsided: t.set.MostLopsided}
	if t.sparse {
		s.mostLopsided *= t.set.SparseLopsided
	}
	return s
}

// ringLog is where the edges of ring k are recorded: nowhere while the way is still
// being found.
func (t *tracer) ringLog(k int) *decision.Log {
	if t.sparse {
		return nil
	}
	return t.aboutRing(t.log, k)
}

// record counts what is decided on each walk.
func (s *lineSearch) record(log *decision.Log, set *Settings) {
	s.weak = log.Tally("ring.LeastStrength", decision.Below, set.LeastStrength, "no line there")
	s.lopsided = log.Tally("ring.MostLopsided", decision.Above, set.MostLopsided, "edge left out")
}

// on finds the pair of flanks that makes the best line on one walk: the one whose
// weaker flank is strongest. Of two lines the nearer one is meant, if nearly as strong:
// the strength counts less the farther the line lies from the walk's middle, by
//
//	1 - NearerCounts |middle|/reach
func (s *lineSearch) on(p *path) (trace, bool) {
	inner, a := p.extrema(s.sign)  // a dark line falls at its inner flank
	outer, b := p.extrema(-s.sign) // and rises at its outer one
	best, result := 0.0, trace{}
	for i := range inner {
		for j := range outer {
			width, middle := outer[j]-inner[i], (outer[j]+inner[i])/2
			strength := min(a[i], b[j])
			if !s.fits(p, width, middle) || s.tooWeak(strength) || s.isLopsided(p, inner[i], outer[j]) {
				continue
			}
			if score := strength * (1 - s.set.NearerCounts*math.Abs(middle)/s.reach); score > best {
				best = score
				result = trace{px: p.at(middle), kind: lineFeature, pxPerMM: p.pxPerMM, widthMM: width, slope: strength}
			}
		}
	}
	return result, best > 0 && !math.IsNaN(result.px.X)
}

// fits says whether two flanks may be the line's by their distance and place. The
// widths of line and blur add as the root of their squares, as variances do when one
// shape is folded with another.
func (s *lineSearch) fits(p *path, width, middle float64) bool {
	line := s.Spec.LineMM
	if width < s.set.LeastWidth*line || math.Abs(middle) > s.reach {
		return false
	}
	seen := math.Hypot(line, s.set.SeenBlurPx*s.pxRatio()/p.pxPerMM) // mm
	return !(width > s.set.MostWidth*seen)
}

// tooWeak says whether a line's weaker flank may be noise: its slope over the noise's
// standard deviation is held against a limit, as a signal-to-noise ratio.
func (s *lineSearch) tooWeak(strength float64) bool {
	if s.weak != nil {
		s.weak.Below(strength/s.noise, s.set.LeastStrength)
	}
	return strength < s.set.LeastStrength*s.noise
}

// isLopsided says whether the light on the two sides of a line differs so much
// (a tape's edge, a shadow, the mark's) that the line's middle is pulled: each flank
// is placed where its own step is steepest, and blur moves the two by different
// amounts. Held against a limit is
//
//	|a - b| / min(|a - line|, |b - line|)
//
// with a and b the light on the two sides.
func (s *lineSearch) isLopsided(p *path, inner, outer float64) bool {
	width := outer - inner
	beside := s.set.LopsidedAt * width
	a, line, b := p.value(inner-beside), p.value((inner+outer)/2), p.value(outer+beside)
	contrast := min(math.Abs(a-line), math.Abs(b-line))
	if s.lopsided != nil {
		s.lopsided.Above(math.Abs(a-b)/contrast, s.mostLopsided)
	}
	return math.Abs(a-b) > s.mostLopsided*contrast
}
