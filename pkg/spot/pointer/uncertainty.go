package pointer

import (
	"math"

	"burngauge.dev/burngauge/pkg/stat"
)

// u is the standard uncertainty of the middle from how its parts agree, mm per
// axis: the root mean square over the axes.
func (s *sighting) u() float64 {
	cov := s.covariance(s.ground)
	return math.Sqrt((cov[0][0] + cov[1][1]) / 2)
}

// lookUncertainty is the standard uncertainty, mm per axis, from how one looks:
// what a narrower look and other starts make of the middle, and what the ground
// may hide. Infinite when a look finds no middle, or the ground changes under the
// dot.
//
// A share q of the dot's light that lies on one side more than on the other moves
// what is fitted to it by q half widths / 2 at most; per axis the half of that.
func (s *sighting) lookUncertainty(v *view) float64 {
	narrow := &sighting{dot: s.dot, ground: v.newGround(s.x, s.y, s.set.Narrower*s.reach)}
	if !narrow.settle(narrow.ground) {
		return math.Inf(1)
	}
	uneven := s.unevenness()
	if s.log.Above("pointer.MostUneven", uneven, s.set.MostUneven, "no dot: the ground changes under it") {
		return math.Inf(1)
	}
	look := math.Hypot(narrow.x-s.x, narrow.y-s.y) / math.Sqrt2
	return math.Hypot(math.Hypot(look, s.startsUncertainty()), math.Hypot(uneven, s.seamUncertainty())*s.width/4)
}

// startsUncertainty is the standard uncertainty, mm per axis, from where the
// search starts: where lines and burnt out light hide most of a dot's sides,
// several places do about equally well. One start that strays, over a tape's edge
// say, does not count.
func (s *sighting) startsUncertainty() float64 {
	var off []float64
	for i := range s.set.Starts {
		o := s.dot
		up, right := math.Sincos(2 * math.Pi * float64(i) / float64(s.set.Starts))
		o.x, o.y = o.x+s.set.StartWidths*s.width*right, o.y+s.set.StartWidths*s.width*up
		if !o.settle(s.ground) {
			return math.Inf(1)
		}
		off = append(off, math.Hypot(o.x-s.x, o.y-s.y))
	}
	return stat.Median(off) / math.Sqrt2
}

// seamUncertainty is how far the light of the dot's two halves may differ where a
// seam runs through it, as a share of the dot's: another ground spreads more of
// it or less, and the camera's tone curve bends the two sides differently. It
// counts the less the farther the seam lies from the middle: exp(-(d/width)²).
func (s *sighting) seamUncertainty() float64 {
	return s.set.SeamU * math.Exp(-square(s.seam.from(s.x, s.y)/s.width))
}

// unevenness is by how much the tape's light changes under and about the dot, as
// a share of the dot's, apart from a seam: where that runs is known. In each
// colour it is half the range of the tape's light, tails left out; over the
// colours the least-squares ratio Σ range height / Σ height².
func (s *sighting) unevenness() float64 {
	var ranges, heights float64
	for c := range s.fall {
		var bare [2][]float64 // on either side of a seam
		for _, k := range s.fitted {
			if r, _ := s.distance(s.Centre(k)); r < s.set.UnevenWidths*s.width {
				bare[s.side(k)] = append(bare[s.side(k)], s.bare[c][k])
			}
		}
		half := 0.0
		for _, b := range bare {
			if len(b) > 0 {
				half = max(half, (stat.Quantile(b, 1-s.set.UnevenTail)-stat.Quantile(b, s.set.UnevenTail))/2)
			}
		}
		ranges += half * s.fall[c].height()
		heights += square(s.fall[c].height())
	}
	return ranges / max(heights, smallestLight)
}
