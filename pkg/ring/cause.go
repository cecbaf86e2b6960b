package ring

import (
	"fmt"
	"slices"

	"burngauge.dev/burngauge/pkg/target"
)

// why names the reason that no target was accepted, as far as it can be told.
func (s *search) why(best look, opt Options) *Refusal {
	if r := s.otherTarget(); r != nil {
		return r
	}
	short := float64(min(s.photo.Image.Width, s.photo.Image.Height))
	if s.shines() {
		return &Refusal{Glare, textGlare}
	}
	if s.sharpest() > mostBlur {
		return &Refusal{Blurred, textBlurred}
	}
	if s.any(0.1*short, func(c candidate) bool { return c.arc > 0.6 && c.B < 0.5*c.A }) {
		return &Refusal{TooTilted, textTilted}
	}
	if best.fit != nil && best.index.clear() && best.lines > 0.15 && 2*best.fit.Spec.OuterRadius()*best.fit.PxPerMM() < leastSize*short {
		return &Refusal{TooSmall, textSmall}
	}
	if best.fit != nil && best.lines > 0.3 && 2*best.fit.Spec.OuterRadius()*best.fit.PxPerMM() > 0.1*short {
		return &Refusal{RingsUnclear, textUnclear}
	}
	return &Refusal{NoTarget, textNoTarget}
}

// mostBlur is the sigma of the sharpest steps in the small picture, px: of
// simulated photos those in soft focus have up to 2.2, those too blurred for
// lines 2.6 and more.
const mostBlur = 2.4

// any tells whether an ellipse of at least so many px (major semi-axis) is one
// that is asked for.
func (s *search) any(least float64, is func(candidate) bool) bool {
	return slices.ContainsFunc(s.candidates, func(c candidate) bool { return c.A > least && c.arc > 0.35 && is(c) })
}

// beside looks whether what is too small or shines is the target at all: it may
// be another thing, and the target another one or hidden by the shine.
func (s *search) beside(r *Refusal) *Refusal {
	if r.Code != TooSmall && r.Code != Glare {
		return r
	}
	if other := s.otherTarget(); other != nil {
		return other
	}
	if s.shines() {
		return &Refusal{Glare, textGlare}
	}
	return r
}

// clearer puts a more certain cause in the place of a general one, where the
// ellipses show it: the target itself runs out of the photo, or whole rings
// that are not the spec's.
func (s *search) clearer(r *Refusal, best look) *Refusal {
	switch r.Code {
	case NoTarget, RingsUnclear, IndexHidden, TooSmall, TooTilted:
	default:
		return r
	}
	least := 0.0 // what was taken for the target may lie beside it, and is smaller then
	if best.fit != nil && s.accepted(best, Options{}) {
		least = best.fit.Spec.OuterRadius() * best.fit.PxPerMM()
	}
	if side := s.cutRosette(least); side != "" {
		return cutOff(side)
	}
	if r.Code != TooTilted && s.otherRosette() {
		return &Refusal{WrongTarget, fmt.Sprintf("the rings that are seen are not those of %s: name the right target with --target", s.spec.Name)}
	}
	return r
}

// otherTarget looks for the built-in targets other than the one asked for.
func (s *search) otherTarget() *Refusal {
	for _, name := range target.Names() {
		spec, ok := target.Builtin(name)
		if !ok || slices.Equal(spec.RingsMM, s.spec.RingsMM) || len(spec.RingsMM) < 2 {
			continue
		}
		other := *s
		other.spec = spec
		other.frames = frames(s.small, spec, s.priors, s.candidates)
		if len(other.frames) > 2 {
			other.frames = other.frames[:2]
		}
		if l := other.best(Options{}); l.fit != nil && l.score() > 1.2 && l.fit.ringsSeen() >= 2 {
			return &Refusal{WrongTarget, textOther(s.spec.Name, name)}
		}
	}
	return nil
}

// otherOr names another target that the rings fit, or else says what is unclear.
func (s *search) otherOr(text string) *Refusal {
	if other := s.otherTarget(); other != nil {
		return other
	}
	return &Refusal{RingsUnclear, text}
}

// otherRosette tells whether whole rings are seen that are not those of the
// spec, and none that are. Rings seen much from the side are left out: there
// perspective changes the ratios.
func (s *search) otherRosette() bool {
	least := largestThing / 2 * float64(min(s.photo.Image.Width, s.photo.Image.Height))
	other := false
	for _, r := range rosettes(s.candidates, wholeArc) {
		if r[0].A < least || r[0].flat() < 0.5 {
			continue
		}
		switch fitting, _ := r.fit(s.spec.RingsMM); {
		case fitting == len(r) && fitting >= min(leastRosette, len(s.spec.RingsMM)):
			return false
		case len(r) >= leastRosette && fitting <= len(r)-2:
			other = true
		}
	}
	return other
}

// textOther names the target that fits. A spec of the user's own may bear a
// built-in target's name: it began as a copy of it.
func textOther(own, builtin string) string {
	fits := builtin
	if own == builtin {
		fits = "the built-in target of that name"
	}
	return fmt.Sprintf("the rings are not those of %s, they fit %s: measure again with --target %s", own, fits, builtin)
}
