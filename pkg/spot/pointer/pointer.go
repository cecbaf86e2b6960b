// Package pointer finds and measures the red pointer's dot: light added to what
// the target reflects.
//
// Its centre is where that light is symmetrical about, whatever the law by which
// it falls outwards: the core may be burnt out white, a burn or a line may hide a
// part. Of a symmetrical dot the first moment is the same.
//
// Places that are redder or brighter than their surroundings are found on a
// coarse field (places.go). About each, what the ground would reflect without the
// dot is worked out (ground.go, seam.go), and the middle is fitted (dot.go,
// falloff.go, equations.go). Whether that is a dot is judged last (sighting.go),
// with how well its middle is known (uncertainty.go).
package pointer

import (
	"math"

	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/refusal"
	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/spot"
	"burngauge.dev/burngauge/pkg/spot/flat"
)

// Options for Measure. Start from DefaultOptions.
type Options struct {
	Settings Settings
	Flat     flat.Settings
	Log      *decision.Log // of all that is decided on the way; nil records nothing
}

// DefaultOptions are those that every dot is measured with, without a log.
func DefaultOptions() Options {
	return Options{Settings: DefaultSettings(), Flat: flat.DefaultSettings()}
}

const (
	textNoDot = "no red dot is seen on the target: switch the pointer on, dim the room light, and take the photo again"
	textTwo   = "two red dots are on the target: shade the reflection or the second pointer, and take the photo again"
)

// view is the target on which a dot is looked for, and by what numbers.
type view struct {
	fit   *ring.Fit
	print flat.Print
	set   *Settings
	flat  flat.Settings
	log   *decision.Log
}

// at is the view with all that is decided recorded of one place (mm).
func (v *view) at(place [2]float64, i int) *view {
	one := *v
	one.log = v.log.About(v.fit.Raised(place[0], place[1]), "place %d", i+1)
	one.print = v.print.Recording(one.log)
	return &one
}

// Measure measures the red pointer's dot on the target. The error is a
// *refusal.Refusal: no-mark or two-marks.
func Measure(f *ring.Fit, opt Options) (*spot.Mark, error) {
	v := &view{fit: f, print: flat.NewPrint(f, opt.Flat), set: &opt.Settings, flat: opt.Flat, log: opt.Log}
	var best *sighting
	for i, place := range v.places() {
		s := v.at(place, i).sight(place, best)
		if s == nil {
			continue
		}
		if best == nil {
			best = s
			continue
		}
		if s.isRivalOf(best) {
			return nil, refusal.New(refusal.TwoMarks, textTwo)
		}
		if s.height() > best.height() {
			best = s
		}
	}
	if v.log.Below("pointer.LeastDots", dots(best), v.set.LeastDots, "refused: no-mark, none of the places is a dot") || best == nil {
		return nil, refusal.New(refusal.NoMark, textNoDot)
	}
	return best.mark(), nil
}

// dots is how many dots a best one stands for: 1, or none.
func dots(best *sighting) float64 {
	if best == nil {
		return 0
	}
	return 1
}

// sight is the dot near a place, nil when there is none or it is the best one so
// far, found once more.
func (v *view) sight(place [2]float64, best *sighting) *sighting {
	if best != nil {
		off := math.Hypot(place[0]-best.x, place[1]-best.y)
		const same = "the place is that of the dot already found"
		if v.log.Below("pointer.ApartMM", off, v.set.ApartMM, same) || v.log.Below("pointer.ApartWidths", off/best.width, v.set.ApartWidths, same) {
			return nil
		}
	}
	s := v.look(place)
	if !s.isDot() {
		return nil
	}
	s.looksU = s.lookUncertainty(v)
	if v.log.Above("pointer.WorstU", s.looksU, v.set.WorstU, "no dot: its middle is not known well") {
		return nil
	}
	return s
}
