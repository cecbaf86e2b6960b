package ring

import (
	"fmt"
	"math"
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
	textBent     = "rings and index mark do not lie as on a flat target seen by a camera: take the whole photo, neither cut nor straightened, or press the tape down and take it again"
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
