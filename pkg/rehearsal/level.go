package rehearsal

import (
	"fmt"
	"strings"

	"burngauge.dev/burngauge/pkg/machine"
)

// Level says how far a simulated machine departs from its profile.
type Level string

// Levels, from a machine that is as its profile says to a worn-out one.
const (
	Easy Level = "easy" // only mirrors and source are out of line
	Worn Level = "worn" // also lengths off by 3 %, screws by 15 %, a mild twist
	Hard Level = "hard" // lengths 8 %, screws 30 %, twist 0.25 mm, backlash
)

// Levels are all of them, the easiest first.
var Levels = []Level{Easy, Worn, Hard}

// ParseLevel reads a level's name.
func ParseLevel(name string) (Level, error) {
	for _, l := range Levels {
		if name == string(l) {
			return l, nil
		}
	}
	words := make([]string, len(Levels))
	for i, l := range Levels {
		words[i] = string(l)
	}
	return "", fmt.Errorf("level %q is not one of %s", name, strings.Join(words, ", "))
}

// ranges are how far each fault may go; faults are drawn evenly from minus to
// plus the range, but for the twist and the backlash.
type ranges struct {
	mirrorTiltDeg, mirrorShiftMM  float64
	sourceAimDeg, sourceShiftMM   float64
	pointerAimDeg, pointerShiftMM float64
	lengthsPercent, gainsPercent  float64
	twistMM                       float64 // half of it to all of it, either way
	backlashTurns                 float64 // half of it to all of it
}

// ranges of a level. Tilts and shifts are such that the spots of the starter
// profile start some millimetres off, as one finds a machine whose mirrors were
// cleaned and put back (common practice, no source); a pointer is often a few
// millimetres off the beam (likewise). A backlash of 0.05 turn, 18
// degrees, is that of a mount whose spring has gone weak (likewise).
func (l Level) ranges() ranges {
	r := ranges{mirrorTiltDeg: 0.09, mirrorShiftMM: 0.4, sourceAimDeg: 0.06, sourceShiftMM: 0.5,
		pointerAimDeg: 0.05, pointerShiftMM: 1.5}
	switch l {
	case Worn:
		r.lengthsPercent, r.gainsPercent, r.twistMM = 3, 15, 0.1
	case Hard:
		r.lengthsPercent, r.gainsPercent, r.twistMM, r.backlashTurns = 8, 30, 0.25, 0.05
	}
	return r
}

// overruled puts in what the profile says itself.
func (r ranges) overruled(by machine.Ranges) ranges {
	for _, k := range []struct {
		to   *float64
		from *float64
	}{
		{&r.mirrorTiltDeg, by.MirrorTiltDeg}, {&r.mirrorShiftMM, by.MirrorShiftMM},
		{&r.sourceAimDeg, by.SourceAimDeg}, {&r.sourceShiftMM, by.SourceShiftMM},
		{&r.pointerAimDeg, by.PointerAimDeg}, {&r.pointerShiftMM, by.PointerShiftMM},
		{&r.lengthsPercent, by.LengthsPercent}, {&r.gainsPercent, by.GainsPercent},
		{&r.twistMM, by.TwistMM}, {&r.backlashTurns, by.BacklashTurns},
	} {
		if k.from != nil {
			*k.to = *k.from
		}
	}
	return r
}
