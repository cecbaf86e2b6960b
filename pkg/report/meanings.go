package report

import "burngauge.dev/burngauge/pkg/coverage"

// Meaning is one word of the format with what it means to people. The words are part
// of the format: they may be added to and are not renamed. The lists below are those
// that the programs print; the codes of refusals and of unreadable files are listed
// by pkg/refusal and pkg/photo.
type Meaning struct {
	Code string
	Text string // one or more clauses, no full stop
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
