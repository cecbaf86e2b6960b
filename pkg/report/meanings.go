package report

import "burngauge.dev/burngauge/pkg/coverage"

// Code is one word of the format with what it means to people: for a refusal what
// to do, for the others what is so. The codes are part of the format: they may be
// added to and are not renamed. The lists below are those that the programs print.
type Meaning struct {
	Code string
	Text string // one or more clauses, no full stop
}

// Refusals are the codes that a target or mark is refused with, in the order in
// which a photo is looked at. Refusal.Text says it of the photo at hand.
func Refusals() []Meaning {
	return []Meaning{
		{"no-target", "let the target fill a quarter to a half of the picture, in even light"},
		{"cut-off", "step back or move the phone until all of the target is in the picture"},
		{"too-small", "step closer"},
		{"too-tilted", "hold the phone squarely in front of the target"},
		{"blurred", "wipe the lens, tap the target to focus, hold still"},
		{"glare", "turn the lamp or the phone until the shine is gone"},
		{"rings-unclear", "press the tape down or use thinner tape, light it evenly; take the whole photo, neither cut nor straightened; check that --target is right"},
		{"wrong-target", "the rings are not those of the target named: give the right --target"},
		{"index-hidden", "uncover the index mark, or give --roll photo when the photo's top is the target's top"},
		{"no-mark", "no burn, or no red dot, stands out from the tape: fire one short pulse on fresh tape, or switch the pointer on and dim the light; or a hard shadow's edge runs through the burn: light it evenly"},
		{"two-marks", "two separate marks: put on fresh tape and fire one pulse"},
	}
}

// UnreadableCodes are those of files that are no photo (status Unreadable).
func UnreadableCodes() []Meaning {
	return []Meaning{
		{"not-found", "there is no such file, or it cannot be opened: check its name and who may read it"},
		{"empty", "the file holds nothing: copy the photo from the phone again"},
		{"not-an-image", "a folder, a film, or a kind of picture that is not read: save the photo as an ordinary JPEG"},
		{"truncated", "cut off or damaged: copy the photo from the phone again"},
		{"too-large", "more pixels or bytes than are read: set the camera to fewer megapixels, 12 are plenty"},
	}
}

// WarningCodes are those of warnings, which stand beside a number. Warning.Text
// says it of the photo at hand.
func WarningCodes() []Meaning {
	return []Meaning{
		{"one-ring", "one circle alone was seen: hold the phone squarely, or take two photos from opposite sides"},
		{"roll-from-photo", "no index mark was used (--roll photo): directions are those of the photo's top"},
		{"tilted", "seen more than 35 degrees from the side"},
		{"small", "the target is small in the photo"},
		{"shrunk", "the photo looks shrunk or stripped by a messenger (under 1.5 megapixels, or neither camera nor date in it): use the original file"},
		{"cropped", "the photo's sides fit no camera's format: use the original file. A cut to a camera's own format, square say, does not show: with two rings or more it does not matter, with one its result may be wrong by more than ±"},
		{"uncertain", "the uncertainty is large for this limit"},
		{"double", "two overlapping pulses, or the tape moved: use one pulse on fresh tape"},
		{"clipped", "the burn has a straight side: an aperture or a mirror's edge may cut the beam"},
	}
}

// States are those of a mark's verdict.
func States() []Meaning {
	return []Meaning{
		{coverage.Inside, "the place lies within the limit with a probability of at least 95 %"},
		{coverage.Outside, "it does so with a probability of at most 5 %"},
		{coverage.Borderline, "in between: measure again with less uncertainty"},
	}
}

// SetStates are those of a round's verdict, as Judge gives them.
func SetStates() []Meaning {
	return []Meaning{
		{coverage.Inside, "every expected station is inside the limit"},
		{coverage.Outside, "a station is outside"},
		{coverage.Borderline, "no station is outside, and one is borderline"},
		{Incomplete, "an expected station has no measured burn"},
	}
}
