package main

import (
	"math"
	"strings"

	"burngauge.dev/burngauge/pkg/photoset"
	"burngauge.dev/burngauge/pkg/report"
)

// kind is what a case truly is. Every limit separates two kinds: one to keep, one to
// leave out or refuse.
type kind string

// The kinds, in pairs. A case that is neither, such as a photo that may be either
// measured or refused, has no kind and is left out.
const (
	onTarget  kind = "on target"  // the place is the true target's
	offTarget kind = "off target" // it is not
	onMark    kind = "on mark"    // the place is the true mark's
	offMark   kind = "off mark"   // it is not
	nearRival kind = "two marks"  // off the first of two marks: the second, or neither
	toMeasure kind = "to measure" // the photo must be measured
	toRefuse  kind = "to refuse"  // the photo must be refused; for a limit that refuses: for that reason
	noKind    kind = ""
)

// kinds is the order in which they are printed.
var kinds = []kind{onTarget, onMark, nearRival, toMeasure, offTarget, offMark, toRefuse}

// good are the kinds that a limit keeps when it is right.
var good = map[kind]bool{onTarget: true, onMark: true, nearRival: true, toMeasure: true}

// kindOf says what a decision about a photo is truly a case of.
//
// A limit that refuses separates photos to be measured from those that the truth wants
// refused for that reason: photos refused for another say nothing of it. A limit on
// something with a place separates what lies on the target or the mark from what does
// not. Any other separates photos to be measured from all to be refused.
func kindOf(d report.Decision, m report.Measurement, p photoset.Photo) kind {
	code := d.RefusalCode()
	switch {
	case code != "" && p.Expect == photoset.Refuse && p.Refusal != code:
		return noKind
	case code != "" || d.AtPX == nil:
		return kindOfPhoto(p)
	case judgesMark(d):
		return kindOfSpot(*d.AtPX, m, p)
	case nearTarget(*d.AtPX, m, p):
		return onTarget
	}
	return offTarget
}

func kindOfPhoto(p photoset.Photo) kind {
	switch p.Expect {
	case photoset.Measure:
		return toMeasure
	case photoset.Refuse:
		return toRefuse
	}
	return noKind
}

// markPackages are the packages that judge places where a mark may be: burn and pointer,
// and the flattened field that both look at.
var markPackages = map[string]bool{"burn": true, "pointer": true, "flat": true}

// judgesMark says whether a decision is about a mark.
func judgesMark(d report.Decision) bool {
	pkg, _, _ := strings.Cut(d.Name, ".")
	return markPackages[pkg]
}

// nearTargetPart is how far from the target's true centre a place may lie, as a part
// of the outer ring's radius r. The middle of the ellipse that a circle seen at a tilt
// t from a distance D gives lies about r/D sin t cos t radii from the circle's centre:
// a twentieth at 45 degrees from ten radii away. Twice that is left for noise.
const nearTargetPart = 0.1

// nearTarget says whether a place is the middle of the target that was asked for. Of
// a target of another name there is none.
func nearTarget(at [2]float64, m report.Measurement, p photoset.Photo) bool {
	if p.Target != "" && p.Target != strings.TrimSuffix(p.Spec, ".yaml") {
		return false
	}
	radius := p.Fraction * float64(min(m.Photo.Width, m.Photo.Height)) / 2
	return math.Hypot(at[0]-p.Centre[0], at[1]-p.Centre[1]) <= nearTargetPart*radius
}

// pointerMM is half the width of a pointer's dot, whose size no truth states: common
// practice, no source.
const pointerMM = 1.5

// kindOfSpot says whether a place lies on the true mark. Where that is, needs the
// target's roll, which is measured; without it, or where the truth has no mark
// although one may be there, there is no kind.
func kindOfSpot(at [2]float64, m report.Measurement, p photoset.Photo) kind {
	truth := p.Truth(m.Mark)
	if m.View == nil || p.Scale == 0 {
		return noKind
	}
	if truth == nil {
		return offMark
	}
	x, y := pixelOf(*truth, m.View.RollDeg, p)
	reach := pointerMM
	if truth.MajorMM > 0 {
		reach = truth.MajorMM / 2
	}
	// Seen at a tilt the mark lies nearer to the centre by as much as this.
	reach += truth.Distance() * (1 - math.Cos(m.View.TiltDeg*math.Pi/180))
	switch {
	case math.Hypot(at[0]-x, at[1]-y) <= reach*p.Scale:
		return onMark
	case p.Refusal == twoMarks:
		return nearRival
	}
	return offMark
}

// twoMarks is the code of photos with a second mark, whose place no truth states.
const twoMarks = "two-marks"

// pixelOf is where a mark lies on the upright photo, but for the tilt: the target's
// up points to (sin roll, -cos roll), its right to (cos roll, sin roll), y down.
func pixelOf(mark photoset.Mark, rollDeg float64, p photoset.Photo) (x, y float64) {
	sin, cos := math.Sincos(rollDeg * math.Pi / 180)
	return p.Centre[0] + p.Scale*(mark.RightMM*cos+mark.UpMM*sin), p.Centre[1] + p.Scale*(mark.RightMM*sin-mark.UpMM*cos)
}
