// Package burn finds and measures the burn on the target: the dark mark that a
// pulse leaves on tape.
//
// The centre is the first moment, as ISO 11146-1 defines a beam's position,
// applied to the mark's darkness; the size is by second moments. Dark blobs are
// found on a coarse field (blobs.go); the surroundings of each are turned from
// light into darkness on a fine one (darkness.go, core.go); whether that is a
// mark, and can be measured, is judged (judge.go) before it is (centre.go,
// uncertainty.go, shape.go).
package burn

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

// DefaultOptions are those that every burn is measured with, without a log.
func DefaultOptions() Options {
	return Options{Settings: DefaultSettings(), Flat: flat.DefaultSettings()}
}

const (
	textNoBurn   = "no burn is seen on the tape: fire one short pulse on fresh tape, as the machine's maker instructs, and take the photo again"
	textOpen     = "what is dark here is not dark against all that lies round it: cover the whole target with fresh tape, fire one pulse, and take the photo again"
	textTwo      = "two separate marks are on the tape: put on fresh tape, fire one pulse, and take the photo again"
	textShine    = "light is reflected off the tape beside the burn: turn the lamp or the phone until the shine is gone, and take the photo again"
	textShadowed = "a hard shadow's edge runs through the burn and hides a part of it: light it evenly and take the photo again"
)

// view is the target on which a burn is looked for, and by what numbers.
type view struct {
	fit   *ring.Fit
	print flat.Print
	set   *Settings
	flat  flat.Settings
	log   *decision.Log
}

// Measure measures the burn on the target. The error is a *refusal.Refusal:
// no-mark, two-marks or glare.
func Measure(f *ring.Fit, opt Options) (*spot.Mark, error) {
	v := &view{fit: f, print: flat.NewPrint(f, opt.Flat), set: &opt.Settings, flat: opt.Flat, log: opt.Log}
	coarse, blobs := v.blobs()
	first, mark := v.firstMark(coarse, blobs)
	marks := 0.0
	if mark != nil {
		marks = 1
	}
	if v.log.Below("burn.LeastMarks", marks, v.set.LeastMarks, "refused: no-mark, none of the blobs is a mark") || mark == nil {
		return nil, refusal.New(refusal.NoMark, textNoBurn)
	}
	if mark.isOpen() {
		return nil, refusal.New(refusal.NoMark, textOpen)
	}
	if v.hasRival(coarse, blobs, first) {
		return nil, refusal.New(refusal.TwoMarks, textTwo)
	}
	return mark.d.measure(blobs[first])
}

// firstMark is the first blob that is a mark, by its number, and what was judged of
// it; nil when none is.
func (v *view) firstMark(coarse *flat.Field, blobs []blob) (int, *judge) {
	for i, b := range blobs {
		if d := v.darkness(coarse, b, i); d != nil {
			if j := newJudge(d, firstWords); j.isMark() {
				return i, &j
			}
		}
	}
	return -1, nil
}

// about is the log with blob i as its subject.
func (v *view) about(b blob, i int) *decision.Log {
	return v.log.About(v.fit.Raised(b.x, b.y), "blob %d", i+1)
}

// hasRival says whether one of the blobs after the first mark is a mark too.
func (v *view) hasRival(coarse *flat.Field, blobs []blob, first int) bool {
	for i := first + 1; i < len(blobs); i++ {
		b, log := blobs[i], v.about(blobs[i], i)
		if log.Below("burn.RivalContrast", b.contrast/blobs[first].contrast, v.set.RivalContrast, "no second mark: too pale") ||
			log.Below("burn.RivalArea", b.area/blobs[first].area, v.set.RivalArea, "no second mark: too small") {
			continue
		}
		d := v.darkness(coarse, b, i)
		if d == nil {
			continue
		}
		if j := newJudge(d, rivalWords); j.isRival() && !j.isOpen() {
			return true
		}
	}
	return false
}

// measure takes the mark's numbers.
func (d *darkness) measure(b blob) (*spot.Mark, error) {
	centre, whole := d.char(), d.above(d.set.SizeAbove)
	u := uncertainty{d, centre}
	edge, uneven := u.edgeChoice(), u.unevenness()
	if d.isGlared(edge) {
		return nil, refusal.New(refusal.Glare, textShine)
	}
	if d.log.Above("burn.MostUneven", uneven, d.set.MostUneven, "refused: no-mark") {
		return nil, refusal.New(refusal.NoMark, textShadowed)
	}
	mark := &spot.Mark{
		X: centre.X, Y: centre.Y, Shape: newForm(d, whole).name(), Contrast: b.contrast,
		// Independent sources: their variances add (JCGM 100, 5.1.2).
		EdgeU: math.Hypot(math.Hypot(edge, u.unevenLight(uneven)), u.hidden()), NoiseU: u.noise(), Outline: d.outline(),
	}
	mark.Major, mark.Minor, mark.Axis = whole.Principal()
	return mark, nil
}
