// Package cause names the likeliest reason that a photo's target was not
// measured, from what was seen while it was looked for. Nothing is measured here,
// and no photo is accepted that pkg/locate gave up.
package cause

import (
	"fmt"
	"slices"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/ellipse"
	"burngauge.dev/burngauge/pkg/locate"
	"burngauge.dev/burngauge/pkg/refusal"
	"burngauge.dev/burngauge/pkg/target"
)

// Of is the refusal of a photo that was given up: its likeliest cause, and what
// to do next. It is nil when the sighting has no failure. What it decides is
// recorded in the sighting's log.
func Of(s *locate.Sighting, set Settings) *refusal.Refusal {
	e := explainer{Sighting: s, set: set}
	switch s.Failure {
	case locate.None:
		return nil
	case locate.TinyPicture:
		return refusal.New(refusal.NoTarget, textTiny)
	case locate.NotFound:
		return e.byEllipses(e.notFound())
	case locate.TooTilted:
		return e.byEllipses(refusal.New(refusal.TooTilted, textTilted))
	case locate.Shining:
		return e.byEllipses(e.unlessOther(refusal.New(refusal.Glare, textGlare)))
	case locate.TooSmall:
		return e.byEllipses(e.unlessOther(refusal.New(refusal.TooSmall, textSmall)))
	case locate.CutOff:
		return cutOff(s.Side)
	case locate.NoIndex:
		return e.byEllipses(e.otherOr(refusal.IndexHidden, textIndex))
	case locate.BarElsewhere:
		return e.byEllipses(refusal.New(refusal.IndexHidden, textIndex))
	case locate.BarMisfits:
		return e.byEllipses(e.otherOr(refusal.RingsUnclear, textBar))
	default:
		return e.doubted()
	}
}

// doubted is the refusal where something spoke against the finished fit.
func (e explainer) doubted() *refusal.Refusal {
	switch name := e.Spec.Name; e.Failure {
	case locate.UnknownLine:
		return e.otherOr(refusal.WrongTarget, fmt.Sprintf("a ring of about %.1f mm is seen that %s does not have: name the right target with --target", 2*e.RadiusMM, name))
	case locate.Ratios:
		return e.otherOr(refusal.WrongTarget, fmt.Sprintf("the rings' diameters are not in the ratio that %s has: name the right target with --target", name))
	case locate.UnknownRing:
		return refusal.New(refusal.WrongTarget, fmt.Sprintf("a ring is seen that %s does not have: name the right target with --target", name))
	case locate.BarStrained:
		return e.otherOr(refusal.RingsUnclear, textBar)
	case locate.Bent:
		return refusal.New(refusal.RingsUnclear, textBent)
	default: // locate.Unsettled
		return refusal.New(refusal.RingsUnclear, textUnclear)
	}
}

// explainer looks at one sighting.
type explainer struct {
	*locate.Sighting
	set Settings
}

// above and below hold a value against a limit of this package's settings; code
// is what the photo's refusal is called when it holds.
func (e explainer) above(setting string, value, limit float64, code refusal.Code) bool {
	return e.Log().Above("cause."+setting, value, limit, "refused: "+string(code))
}

func (e explainer) below(setting string, value, limit float64, code refusal.Code) bool {
	return e.Log().Below("cause."+setting, value, limit, "refused: "+string(code))
}

// notFound names the reason that no look shows enough of the target.
func (e explainer) notFound() *refusal.Refusal {
	if r := e.otherTarget(); r != nil {
		return r
	}
	if e.shines() {
		return refusal.New(refusal.Glare, textGlare)
	}
	if e.above("MostBlurPx", e.sharpest(), e.set.MostBlurPx, refusal.Blurred) {
		return refusal.New(refusal.Blurred, textBlurred)
	}
	if e.seenFromTheSide() {
		return refusal.New(refusal.TooTilted, textTilted)
	}
	if e.Best.Fit != nil {
		size := 2 * e.Best.Fit.Spec.OuterRadius() * e.Best.Fit.PxPerMM() / e.ShortSide() // outer ring over the short side
		if e.Best.Index.Clear() && size < e.Settings().LeastSize && e.above("SmallLines", e.Best.Lines, e.set.SmallLines, refusal.TooSmall) {
			return refusal.New(refusal.TooSmall, textSmall)
		}
		if size > e.set.UnclearSize && e.above("UnclearLines", e.Best.Lines, e.set.UnclearLines, refusal.RingsUnclear) {
			return refusal.New(refusal.RingsUnclear, textUnclear)
		}
	}
	return refusal.New(refusal.NoTarget, textNoTarget)
}

// seenFromTheSide says whether a large ellipse is flatter than a target that can
// be measured. The flattest of the large ones decides.
func (e explainer) seenFromTheSide() bool {
	flattest := 1.0
	var at conic.Point
	for _, c := range e.Ellipses {
		if e.shows(c, e.set.TiltedSize) && c.Arc > e.set.TiltedArc && c.B/c.A < flattest {
			flattest, at = c.B/c.A, conic.Point{X: c.X, Y: c.Y}
		}
	}
	return e.Log().About(at, "flattest large ellipse").Below("cause.TiltedFlatness", flattest, e.set.TiltedFlatness, "refused: "+string(refusal.TooTilted))
}

// shows says whether an ellipse is seen well enough, with a major semi-axis over
// so much of the photo's short side, to say why there is no target.
func (e explainer) shows(c ellipse.Candidate, size float64) bool {
	return c.A > size*e.ShortSide() && c.Arc > e.set.LeastEllipseArc
}

// unlessOther looks whether what is too small or shines is the target at all: it
// may be another thing, and the target another one or hidden by the shine.
func (e explainer) unlessOther(r *refusal.Refusal) *refusal.Refusal {
	if other := e.otherTarget(); other != nil {
		return other
	}
	if e.shines() {
		return refusal.New(refusal.Glare, textGlare)
	}
	return r
}

// byEllipses puts a more certain cause in the place of a general one, where the
// ellipses show it: the target itself runs out of the photo, or whole rings
// that are not the spec's.
func (e explainer) byEllipses(r *refusal.Refusal) *refusal.Refusal {
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
		if !ok || slices.Equal(spec.RingsMM, e.Spec.RingsMM) || len(spec.RingsMM) < e.set.OtherRings {
			continue
		}
		l := e.As(spec, e.set.OtherFrames)
		if l.Fit == nil {
			continue
		}
		log := e.Log().About(l.Fit.Pixel(0, 0), "rings of %s", name)
		if !log.Below("cause.OtherRings", float64(l.Fit.RingsSeen()), float64(e.set.OtherRings), "not the other target: too few rings") &&
			log.Above("cause.OtherScore", e.Score(l), e.set.OtherScore, "refused: "+string(refusal.WrongTarget)) {
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

// otherConcentric says whether whole rings are seen that are not those of the
// spec, and none that are. Rings seen much from the side are left out: there
// perspective changes the ratios.
func (e explainer) otherConcentric() bool {
	set, search := e.set, e.Settings().Ellipse
	least := set.LargestThing / 2 * e.ShortSide()
	other := false
	for _, r := range ellipse.ConcentricLines(e.Ellipses, search.WholeArc, search) {
		if r[0].A < least || r[0].Flat() < set.OtherFlatness {
			continue
		}
		fitting, _ := r.Match(e.Spec.RingsMM, search)
		if fitting == len(r) && fitting >= min(set.LeastConcentric, len(e.Spec.RingsMM)) {
			return false
		}
		log := e.Log().About(conic.Point{X: r[0].X, Y: r[0].Y}, "%d lines about one middle", len(r))
		if !log.Below("cause.LeastConcentric", float64(len(r)), float64(set.LeastConcentric), "too few lines for another target") &&
			!log.Below("cause.OtherMisfits", float64(len(r)-fitting), float64(set.OtherMisfits), "not another target: they are rings of the spec") {
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
