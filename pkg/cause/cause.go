// Package cause names the likeliest reason that a photo's target was not
// measured, from what was seen while it was looked for. Nothing is measured here,
// and no photo is accepted that pkg/locate gave up.
package cause

import (
	"fmt"
	"slices"

	"burngauge.dev/burngauge/pkg/ellipse"
	"burngauge.dev/burngauge/pkg/locate"
	"burngauge.dev/burngauge/pkg/refusal"
	"burngauge.dev/burngauge/pkg/target"
)

// Of is the refusal of a photo that was given up: its likeliest cause, and what
// to do next. It is nil when the sighting has no failure.
func Of(s *locate.Sighting) *refusal.Refusal {
	e := explainer{s}
	switch s.Failure {
	case locate.None:
		return nil
	case locate.TinyPicture:
		return refusal.New(refusal.NoTarget, textTiny)
	case locate.NotFound:
		return e.clearer(e.why())
	case locate.TooTilted:
		return e.clearer(refusal.New(refusal.TooTilted, textTilted))
	case locate.Shining:
		return e.clearer(e.beside(refusal.New(refusal.Glare, textGlare)))
	case locate.TooSmall:
		return e.clearer(e.beside(refusal.New(refusal.TooSmall, textSmall)))
	case locate.CutOff:
		return e.clearer(cutOff(s.Side))
	case locate.NoIndex:
		return e.clearer(e.otherOr(refusal.IndexHidden, textIndex))
	case locate.BarElsewhere:
		return e.clearer(refusal.New(refusal.IndexHidden, textIndex))
	case locate.BarMisfits:
		return e.clearer(e.otherOr(refusal.RingsUnclear, textBar))
	case locate.UnknownLine:
		return e.otherOr(refusal.WrongTarget, fmt.Sprintf("a ring of about %.1f mm is seen that %s does not have: name the right target with --target", 2*s.RadiusMM, s.Spec.Name))
	case locate.Ratios:
		return e.otherOr(refusal.WrongTarget, fmt.Sprintf("the rings' diameters are not in the ratio that %s has: name the right target with --target", s.Spec.Name))
	case locate.Bent:
		return refusal.New(refusal.RingsUnclear, textBent)
	case locate.UnknownRing:
		return refusal.New(refusal.WrongTarget, fmt.Sprintf("a ring is seen that %s does not have: name the right target with --target", s.Spec.Name))
	case locate.BarStrained:
		return e.otherOr(refusal.RingsUnclear, textBar)
	}
	return refusal.New(refusal.RingsUnclear, textUnclear)
}

// explainer looks at one sighting.
type explainer struct{ *locate.Sighting }

// why names the reason that no target was accepted, as far as it can be told.
func (e explainer) why() *refusal.Refusal {
	if r := e.otherTarget(); r != nil {
		return r
	}
	short := e.ShortSide()
	if e.shines() {
		return refusal.New(refusal.Glare, textGlare)
	}
	if e.sharpest() > mostBlur {
		return refusal.New(refusal.Blurred, textBlurred)
	}
	if e.any(0.1*short, func(c ellipse.Candidate) bool { return c.Arc > 0.6 && c.B < 0.5*c.A }) {
		return refusal.New(refusal.TooTilted, textTilted)
	}
	if e.Best.Fit != nil && e.Best.Index.Clear() && e.Best.Lines > 0.15 && 2*e.Best.Fit.Spec.OuterRadius()*e.Best.Fit.PxPerMM() < locate.LeastSize*short {
		return refusal.New(refusal.TooSmall, textSmall)
	}
	if e.Best.Fit != nil && e.Best.Lines > 0.3 && 2*e.Best.Fit.Spec.OuterRadius()*e.Best.Fit.PxPerMM() > 0.1*short {
		return refusal.New(refusal.RingsUnclear, textUnclear)
	}
	return refusal.New(refusal.NoTarget, textNoTarget)
}

// mostBlur is the sigma of the sharpest steps in the small picture, px: of
// simulated photos those in soft focus have up to 2.2, those too blurred for
// lines 2.6 and more.
const mostBlur = 2.4

// any tells whether an ellipse of at least so many px (major semi-axis) is one
// that is asked for.
func (e explainer) any(least float64, is func(ellipse.Candidate) bool) bool {
	return slices.ContainsFunc(e.Ellipses, func(c ellipse.Candidate) bool { return c.A > least && c.Arc > 0.35 && is(c) })
}

// beside looks whether what is too small or shines is the target at all: it may
// be another thing, and the target another one or hidden by the shine.
func (e explainer) beside(r *refusal.Refusal) *refusal.Refusal {
	if r.Code != refusal.TooSmall && r.Code != refusal.Glare {
		return r
	}
	if other := e.otherTarget(); other != nil {
		return other
	}
	if e.shines() {
		return refusal.New(refusal.Glare, textGlare)
	}
	return r
}

// clearer puts a more certain cause in the place of a general one, where the
// ellipses show it: the target itself runs out of the photo, or whole rings
// that are not the spec's.
func (e explainer) clearer(r *refusal.Refusal) *refusal.Refusal {
	switch r.Code {
	case refusal.NoTarget, refusal.RingsUnclear, refusal.IndexHidden, refusal.TooSmall, refusal.TooTilted:
	default:
		return r
	}
	least := 0.0 // what was taken for the target may lie beside it, and is smaller then
	if e.Best.Fit != nil && e.Accepts(e.Best, locate.Options{}) {
		least = e.Best.Fit.Spec.OuterRadius() * e.Best.Fit.PxPerMM()
	}
	if side := e.cutConcentric(least); side != "" {
		return cutOff(side)
	}
	if r.Code != refusal.TooTilted && e.otherConcentric() {
		return refusal.New(refusal.WrongTarget, fmt.Sprintf("the rings that are seen are not those of %s: name the right target with --target", e.Spec.Name))
	}
	return r
}

// otherTarget looks for the built-in targets other than the one asked for.
func (e explainer) otherTarget() *refusal.Refusal {
	for _, name := range target.Names() {
		spec, ok := target.Builtin(name)
		if !ok || slices.Equal(spec.RingsMM, e.Spec.RingsMM) || len(spec.RingsMM) < 2 {
			continue
		}
		if l := e.As(spec, 2); l.Fit != nil && l.Score() > 1.2 && l.Fit.RingsSeen() >= 2 {
			return refusal.New(refusal.WrongTarget, textOther(e.Spec.Name, name))
		}
	}
	return nil
}

// otherOr names another target that the rings fit, or else says what is unclear.
func (e explainer) otherOr(code refusal.Code, text string) *refusal.Refusal {
	if other := e.otherTarget(); other != nil {
		return other
	}
	return refusal.New(code, text)
}

// otherConcentric tells whether whole rings are seen that are not those of the
// spec, and none that are. Rings seen much from the side are left out: there
// perspective changes the ratios.
func (e explainer) otherConcentric() bool {
	least := ellipse.LargestThing / 2 * e.ShortSide()
	other := false
	for _, r := range ellipse.ConcentricLines(e.Ellipses, ellipse.WholeArc) {
		if r[0].A < least || r[0].Flat() < 0.5 {
			continue
		}
		switch fitting, _ := r.Match(e.Spec.RingsMM); {
		case fitting == len(r) && fitting >= min(ellipse.LeastConcentric, len(e.Spec.RingsMM)):
			return false
		case len(r) >= ellipse.LeastConcentric && fitting <= len(r)-2:
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
