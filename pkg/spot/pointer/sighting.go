package pointer

import (
	"math"

	"burngauge.dev/burngauge/pkg/spot"
	"burngauge.dev/burngauge/pkg/stat"
)

// sighting is a dot with the ground that it was found on.
type sighting struct {
	dot
	*ground
	settled bool
	looksU  float64 // mm per axis, see lookUncertainty
	width   float64 // mm, where the light has fallen to half, in the widest colour
}

// look fits a dot near a place, twice: the second time the ground is taken from
// beyond the dot's own light.
func (v *view) look(at [2]float64) *sighting {
	s := &sighting{dot: newDot(at[0], at[1], v.set)}
	reach := v.set.FirstReachMM
	for range 2 {
		s.ground = v.newGround(s.dot.x, s.dot.y, reach)
		s.settled = s.settle(s.ground) &&
			v.log.Below("pointer.FirstReachMM", math.Hypot(s.x-at[0], s.y-at[1]), v.set.FirstReachMM, "the middle lies where it was looked for")
		if !s.settled {
			return s
		}
		s.width = 0
		for c := range s.fall {
			s.width = max(s.width, s.fall[c].halfWidth())
		}
		reach = min(max(v.set.ReachWidths*s.width, v.set.LeastReachMM), v.set.MostReachMM)
	}
	return s
}

// height is the red light in the dot's middle.
func (s *sighting) height() float64 { return s.fall[red].height() }

// The colours, in the order of ring.Raster's.
const (
	blue  = 0
	green = 1
	red   = 2
)

// isRivalOf says whether the two are two dots, and not one found twice or one
// with its reflection.
func (s *sighting) isRivalOf(best *sighting) bool {
	off := math.Hypot(s.x-best.x, s.y-best.y)
	return s.log.Above("pointer.ApartMM", off, s.set.ApartMM, "it is not the dot already found") &&
		s.log.Above("pointer.ApartWidths", off/max(s.width, best.width), s.set.ApartWidths, "it is not the dot already found") &&
		s.log.Above("pointer.RivalGlow", min(s.height(), best.height())/max(s.height(), best.height()), s.set.RivalGlow, "refused: two-marks")
}

// isDot distinguishes a dot from shine, paper and tape's edges: its light falls
// off all round, is red, and has a middle.
func (s *sighting) isDot() bool {
	if !s.settled {
		return false
	}
	log, set := s.log, s.set
	if log.Above("pointer.MostLong", math.Hypot(s.e1, s.e2), set.MostLong, "no dot: too long") ||
		log.Below("pointer.NarrowestMM", s.width, set.NarrowestMM, "no dot: too narrow") ||
		log.Above("pointer.WidestMM", s.width, set.WidestMM, "no dot: too wide") ||
		log.Below("pointer.LeastGlow", s.height(), set.LeastGlow, "no dot: too faint") ||
		log.Below("pointer.LeastRed", s.redness(), set.LeastRed, "no dot: not red") {
		return false
	}
	if !log.Above("pointer.LeastExplained", s.explained(), set.LeastExplained, "a dot describes the light") {
		return false
	}
	u := s.u()
	return log.Below("pointer.WorstU", u, set.WorstU, "its middle is known") &&
		log.Below("pointer.Sharpness", u/s.width, set.Sharpness, "its middle is sharp")
}

// redness is the red light the dot adds over the green or blue, where red is
// not burnt out; the least of taking it as light and against the tape's own
// light, of which shine and creases have as much in all colours. 0 when red is
// burnt out everywhere.
//
// With the light over the whole dot, Σ r (L(r) - L(end)) for each colour, it is
// the least of red / other and (red / tape's red) / (other / tape's other).
func (s *sighting) redness() float64 {
	var sum [3]float64
	for i, r := range s.fall[red].radius {
		if s.fall[red].light[i]+s.tape[red] > s.set.BurntOut || s.fall[red].over(r) < s.set.RedShare*s.height() {
			continue
		}
		for c := range sum {
			sum[c] += r * max(0, s.fall[c].over(r))
		}
	}
	least := math.Inf(1)
	for _, c := range []int{blue, green} {
		other := max(sum[c], s.set.LeastOtherShare*sum[red], smallestLight)
		least = min(least, sum[red]/other, sum[red]/other*s.tape[c]/max(s.tape[red], s.set.LeastLight))
	}
	return least
}

// smallestLight keeps a ratio of lights finite where there is none.
const smallestLight = 1e-9

// explained is the share of the light over its surroundings that a dot
// describes, within ExplainedWidths half widths, in the colour where that is
// most: 1 - Σ w (added - model)² / Σ w (added - model + model over its end)².
func (s *sighting) explained() float64 {
	best := 0.0
	for c := range s.fall {
		var left, all float64
		f := &s.fall[c]
		for _, k := range s.fitted {
			r, _ := s.distance(s.Centre(k))
			if r > s.set.ExplainedWidths*f.halfWidth() || !s.isPlain(c, k) {
				continue
			}
			light, _, scatter := f.at(r)
			off := s.added(c, k) - light
			w := stat.Tukey(off / scatter) // writing is no part of the question
			left += w * square(off)
			all += w * square(off+f.over(r))
		}
		if all > 0 {
			best = max(best, 1-left/all)
		}
	}
	return best
}

// mark is the dot as a mark.
func (s *sighting) mark() *spot.Mark {
	m := &spot.Mark{X: s.x, Y: s.y, Contrast: min(1, s.height()), NoiseU: math.Hypot(s.u(), s.set.SpeckleU), EdgeU: s.looksU, Shape: spot.Round}
	m.Major, m.Minor, m.Axis = s.principal()
	if s.log.Below("pointer.Circular", m.Minor/m.Major, s.set.Circular, "shape: oval") {
		m.Shape = spot.Oval
	}
	m.Outline = s.outline(m)
	return m
}
