package ring

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/target"
)

// Code names why there is no fit.
type Code string

// The refusals that finding the target can end in.
const (
	NoTarget     Code = "no-target"
	CutOff       Code = "cut-off"
	TooSmall     Code = "too-small"
	TooTilted    Code = "too-tilted"
	Blurred      Code = "blurred"
	Glare        Code = "glare"
	RingsUnclear Code = "rings-unclear"
	WrongTarget  Code = "wrong-target"
	IndexHidden  Code = "index-hidden"
)

// Refusal says why no plane was fitted: what is wrong, then what to do next.
type Refusal struct {
	Code Code
	Text string
}

func (r *Refusal) Error() string { return fmt.Sprintf("%s: %s", r.Code, r.Text) }

// Limits of what is measured.
const (
	leastLines   = 0.42 // mean over the rings of the part seen: two of four, the others hidden
	leastRim     = 0.5
	leastSize    = 0.10               // outer ring over the photo's short side; the aim is 0.12 to 0.6
	steepest     = 57 * math.Pi / 180 // phones are held to 50; more than this both at the lens's axis and at the line of sight
	mostCut      = 0.06               // of the outer ring outside the photo
	saturated    = 0.97               // linear light of a pixel that tells nothing any more
	mostGlare    = 0.18               // of the target's face
	softestBlur  = 0.75               // sigma of the blur over the line's width
	textBlurred  = "the photo is too blurred for the ring lines: wipe the lens, tap the target to focus, hold still and take it again"
	textTilted   = "the target is seen too much from the side: hold the phone squarely in front of it and take the photo again"
	textSmall    = "the target is too small in the photo: step closer until it fills a quarter to a half of the picture, and take it again"
	textGlare    = "light is reflected off the target: turn the lamp or the phone until the shine is gone, and take the photo again"
	textTiny     = "the picture is too small to be a photo of a target: take the original file from the phone"
	textNoTarget = "no ring target is found: let it fill a quarter to a half of the picture, in even light, and take the photo again"
	textUnclear  = "the rings cannot be told apart: press the tape down or use thinner tape, light it evenly, and take the photo again"
	textBar      = "the index mark does not fit the rings that are seen: name the right target with --target, or uncover more of it and take the photo again"
	textIndex    = "the index mark is not seen: uncover it and take the photo again, or give --roll photo when the photo's top is the target's top"
)

// refuse decides whether the best look is a target that can be measured.
func (s *search) refuse(best look, opt Options) *Refusal {
	if best.fit == nil || !s.accepted(best, opt) {
		return s.why(best, opt)
	}
	f := best.fit
	if r := f.limits(s.photo.Image.Width, s.photo.Image.Height); r != nil {
		return s.beside(r)
	}
	if !best.index.clear() && !opt.RollPhoto {
		if other := s.otherTarget(); other != nil {
			return other
		}
		return &Refusal{IndexHidden, textIndex}
	}
	return nil
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

// accepted tells whether enough of the target is seen to know that it is one.
func (s *search) accepted(l look, opt Options) bool {
	indexed := l.index.clear()
	rings := l.fit.ringsSeen()
	switch {
	case l.fit.skips():
		return false
	case rings >= 2 && l.lines >= leastLines:
		return true
	case rings >= 1 && len(s.spec.RingsMM) == 1:
		return l.lines >= leastLines && (indexed || opt.RollPhoto)
	case rings >= 1 && indexed: // a mark may cover the inner one of two
		return l.lines >= 0.3
	default:
		return s.spec.RimMM > 0 && l.rim >= leastRim && indexed
	}
}

// ringsSeen is how many of the spec's rings the fit rests on.
func (f *Fit) ringsSeen() int {
	n := 0
	for k := range f.Spec.RingsMM {
		if f.arc(k) > leastSeen {
			n++
		}
	}
	return n
}

// skips tells whether a ring between two that are seen is not: a mark may hide
// the inner rings and tape a part of each, but neither hides just that one.
func (f *Fit) skips() bool {
	seen, gap := false, false
	for k := range f.Spec.RingsMM {
		switch here := f.arc(k) > leastSeen; {
		case here && gap:
			return true
		case here:
			seen = true
		case seen:
			gap = true
		}
	}
	return false
}

// limits refuses what is found but cannot be measured well.
func (f *Fit) limits(width, height int) *Refusal {
	size := 2 * f.Spec.OuterRadius() * f.Camera.Focal / f.Pose.T[2]
	switch {
	case min(f.Pose.Tilt(), f.Pose.AxisTilt()) > steepest:
		return &Refusal{TooTilted, textTilted}
	case f.shine() > mostGlare: // what else is wrong may come of it
		return &Refusal{Glare, textGlare}
	case size < leastSize*float64(min(width, height)):
		return &Refusal{TooSmall, textSmall}
	}
	if side, share := f.cutOff(width, height); share > mostCut {
		return cutOff(side)
	}
	return nil
}

func cutOff(side string) *Refusal {
	where := map[string]string{"left": "at the left", "right": "at the right", "top": "at the top", "bottom": "at the bottom"}[side]
	return &Refusal{CutOff, fmt.Sprintf("the target is cut off %s: step back or move the phone until all of it is in the picture, and take it again", where)}
}

// cutOff is the share of the outer ring outside the photo and the side on
// which most of it is.
func (f *Fit) cutOff(width, height int) (side string, share float64) {
	return shareOutside(func(angle float64) conic.Point {
		s, c := math.Sincos(angle)
		return f.Pixel(f.Spec.OuterRadius()*c, f.Spec.OuterRadius()*s)
	}, width, height)
}

// shareOutside is the share of a closed curve outside the photo and the side on
// which most of it is.
func shareOutside(at func(angle float64) conic.Point, width, height int) (side string, share float64) {
	const n = 72
	count := map[string]int{}
	for i := range n {
		if out := outside(at(2*math.Pi*float64(i)/n), width, height); out != "" {
			count[out]++
		}
	}
	total := 0
	for _, name := range sides {
		total += count[name]
		if count[name] > count[side] {
			side = name
		}
	}
	return side, float64(total) / n
}

var sides = []string{"left", "right", "top", "bottom"}

// outside names the side of the photo beyond which a pixel lies, "" within.
func outside(p conic.Point, width, height int) string {
	switch {
	case p.X < 0:
		return "left"
	case p.X > float64(width-1):
		return "right"
	case p.Y < 0:
		return "top"
	case p.Y > float64(height-1):
		return "bottom"
	}
	return ""
}

// shine is the share of the target's face that is burnt out in all colours.
func (f *Fit) shine() float64 {
	bright, n := 0, 0
	for i := range 40 {
		for j := range 40 {
			x, y := (float64(i)/19.5-1)*f.Spec.OuterRadius(), (float64(j)/19.5-1)*f.Spec.OuterRadius()
			if math.Hypot(x, y) > f.Spec.OuterRadius() {
				continue
			}
			n++
			px := f.Pixel(x, y)
			if f.raster.Sample(f.raster.Colour[0], px) > saturated && f.raster.Sample(f.raster.Colour[1], px) > saturated && f.raster.Sample(f.raster.Colour[2], px) > saturated {
				bright++
			}
		}
	}
	return float64(bright) / float64(n)
}

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
			return &Refusal{WrongTarget, fmt.Sprintf("the rings are not those of %s, they fit %s: measure again with --target %s", s.spec.Name, name, name)}
		}
	}
	return nil
}

// shines tells whether something round and large enough for a target is burnt
// out.
func (s *search) shines() bool {
	short := float64(min(s.photo.Image.Width, s.photo.Image.Height))
	return s.any(0.06*short, func(c candidate) bool { return s.shineIn(c.Ellipse) > mostGlare })
}

// otherOr names another target that the rings fit, or else says what is unclear.
func (s *search) otherOr(text string) *Refusal {
	if other := s.otherTarget(); other != nil {
		return other
	}
	return &Refusal{RingsUnclear, text}
}

// shineIn is the share of an ellipse's inside that is burnt out.
func (s *search) shineIn(el conic.Ellipse) float64 {
	im := s.photo.Image
	bright, n := 0, 0
	for i := range 24 {
		for _, r := range [...]float64{0.1, 0.3, 0.5, 0.7, 0.85} {
			inner := el
			inner.A, inner.B = r*el.A, r*el.B
			p := inner.At(2 * math.Pi * float64(i) / 24)
			x, y := int(p.X+0.5), int(p.Y+0.5)
			if x < 0 || y < 0 || x >= im.Width || y >= im.Height {
				continue
			}
			n++
			if k := 3 * (y*im.Width + x); im.Pix[k] >= 250 && im.Pix[k+1] >= 250 && im.Pix[k+2] >= 250 {
				bright++
			}
		}
	}
	return float64(bright) / float64(max(n, 1))
}

// doubt looks at the finished fit for what speaks against it: lines that the
// spec does not have, or an index bar that does not belong to these rings.
func (s *search) doubt(f *Fit) *Refusal {
	if r, ok := f.strangeLine(); ok {
		if other := s.otherTarget(); other != nil {
			return other
		}
		return &Refusal{WrongTarget, fmt.Sprintf("a ring of about %.1f mm is seen that %s does not have: name the right target with --target", 2*r, f.Spec.Name)}
	}
	if f.ringStrain() > mostRingStrain(f.ringsSeen()) {
		if other := s.otherTarget(); other != nil {
			return other
		}
		return &Refusal{WrongTarget, fmt.Sprintf("the rings' diameters are not in the ratio that %s has: name the right target with --target", f.Spec.Name)}
	}
	if f.Circles() == 1 && !f.RimOnly() && s.strangeEllipse(f) {
		return &Refusal{WrongTarget, fmt.Sprintf("a ring is seen that %s does not have: name the right target with --target", f.Spec.Name)}
	}
	if f.Indexed && f.Circles() == 1 && !f.barBelongs() {
		return s.otherOr(textBar)
	}
	return nil
}

// ringStrain is how far the rings' diameters had to be taken from the spec's,
// in its uncertainties, squared and summed.
func (f *Fit) ringStrain() float64 {
	strain := 0.0
	for i := range f.Spec.RingsMM {
		strain += f.off[i] * f.off[i] / (f.offU(i) * f.offU(i))
	}
	return strain
}

// mostRingStrain is passed by one right target of a thousand.
func mostRingStrain(rings int) float64 {
	return distuv.ChiSquared{K: float64(max(rings, 1))}.Quantile(0.999)
}

// barBelongs tells whether the bar's sides lie where the spec has them: with
// one circle alone nothing else tells which circle it is.
func (f *Fit) barBelongs() bool {
	n := 0
	for side := range 4 {
		if spread, ok := f.spread[group{indexFeature, side}]; ok && spread < 0.08*f.PxPerMM()+1 {
			n++
		}
	}
	strain := 0.0
	for i := len(f.Spec.RingsMM) + 1; i < len(f.off); i++ {
		strain += f.off[i] * f.off[i] / (f.offU(i) * f.offU(i))
	}
	most := mostStrain
	if f.RimOnly() {
		most = mostRimStrain
	}
	return n >= 3 && strain < most
}

// How far the bar's five departures may strain what is known of the print:
// 99.9 % of chi-squared with five degrees of freedom is 20.5. About a bare rim
// the bar is all that tells the tilt: 95 %, 11.1.
const (
	mostStrain    = 20.5
	mostRimStrain = 11.1
)

// strangeLine looks between the rings for a line seen all round that the spec
// does not have.
func (f *Fit) strangeLine() (radius float64, found bool) {
	line := f.Spec.LineMM * f.Softness()
	for r := 0.35 * f.Spec.InnerRadius(); r < f.Spec.OuterRadius()-line; r += 0.4 * line {
		near := false
		for _, d := range f.Spec.RingsMM {
			near = near || math.Abs(r-d/2) < 1.6*line+2*float64(f.raster.Factor)/f.PxPerMM()
		}
		if !near && f.lineShare(r, line) > strangeShare {
			return r, true
		}
	}
	return 0, false
}

// strangeShare is the net share of a circle on which a line of the rings' kind
// must be seen to be one: the mark, the cross and the tape never reach it.
const strangeShare = 0.55

// lineShare is the share of a circle with a line of the rings' kind on it,
// less the share with one of the other kind.
func (f *Fit) lineShare(radius, line float64) float64 {
	const n = 90
	score := 0
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		at := func(d float64) float64 {
			return f.raster.Sample(f.raster.Light, f.Pixel((radius+d)*c, (radius+d)*s))
		}
		middle := (at(-0.2*line) + at(0) + at(0.2*line)) / 3
		inner, outer := (at(-1.2*line)+at(-line))/2, (at(1.2*line)+at(line))/2
		a, b := f.Sign*(middle-inner), f.Sign*(middle-outer)
		limit := 0.04 * (inner + outer) / 2
		switch {
		case a > limit && b > limit:
			score++
		case a < -limit && b < -limit:
			score--
		}
	}
	return float64(score) / n
}
