// Package refusal names why a photo gives no number: one list of codes for the
// target and for the mark on it.
//
// A refusal is an error with a code, which programs branch on, and a text for
// people. Codes are part of the JSON format and are not renamed once released.
// Files that are no photos are another matter: see pkg/photo.
package refusal

import (
	"fmt"
	"slices"
)

// Code names in one word why there is no number.
type Code string

// What finding the target can end in.
const (
	NoTarget     Code = "no-target"
	CutOff       Code = "cut-off"
	TooSmall     Code = "too-small"
	TooTilted    Code = "too-tilted"
	Blurred      Code = "blurred"
	Glare        Code = "glare" // also when measuring the mark
	RingsUnclear Code = "rings-unclear"
	WrongTarget  Code = "wrong-target"
	IndexHidden  Code = "index-hidden"
)

// What measuring the mark can end in, in addition to Glare.
const (
	NoMark   Code = "no-mark"
	TwoMarks Code = "two-marks"
)

// Entry is one code as it is explained to users.
type Entry struct {
	Code    Code
	Meaning string // what is wrong
	Remedy  string // what to do next
}

// entries are all codes, in the order in which a photo meets them.
var entries = []Entry{
	{NoTarget, "no ring target is found", "let the target fill a quarter to a half of the picture, in even light"},
	{CutOff, "a part of the target lies outside the picture", "step back or move the phone until all of the target is in the picture"},
	{TooSmall, "the target is too small in the picture", "step closer"},
	{TooTilted, "the target is seen too much from the side", "hold the phone squarely in front of the target"},
	{Blurred, "the photo is too blurred for the ring lines", "wipe the lens, tap the target to focus, hold still"},
	{Glare, "light is reflected off the target or the mark", "turn the lamp or the phone until the shine is gone"},
	{RingsUnclear, "it is not clear which ring is which, or rings and index mark do not lie on one flat target", "press the tape down or use thinner tape, light it evenly; take the whole photo, neither cut nor straightened; check that --target is right"},
	{WrongTarget, "the rings are not those of the target that was named", "give the right --target"},
	{IndexHidden, "the index mark is not seen", "uncover the index mark, or give --roll photo when the photo's top is the target's top"},
	{NoMark, "no burn, or no red dot, stands out from the tape, or a hard shadow hides a part of the burn", "fire one short pulse on fresh tape, as the machine's maker instructs, or switch the pointer on and dim the light; light the target evenly"},
	{TwoMarks, "two separate marks are on the target", "one pulse on fresh tape, or one red dot"},
}

// All lists every code with what it means and what to do, in the order in which
// a photo meets them. The caller owns the slice.
func All() []Entry { return slices.Clone(entries) }

// Refusal is the error that ends a measurement without a number.
type Refusal struct {
	Code Code
	Text string // one sentence: what is wrong, then what to do next
}

// New is a refusal with its sentence.
func New(code Code, text string) *Refusal { return &Refusal{Code: code, Text: text} }

func (r *Refusal) Error() string { return fmt.Sprintf("%s: %s", r.Code, r.Text) }
