package plan

import "slices"

// cautions stand on every plan: whoever reads it fires and turns screws next. The
// substance is common to laser safety (IEC 60825-1, IEC TR 60825-14); the wording
// is ours.
var cautions = []string{
	"This plan is advice and commands no machine. Local rules, the machine maker's instructions and the laser safety officer come first.",
	"Switch the source to safe, wait, and keep it so while anybody's hand is on a screw or a target. Nobody's face, hand or sleeve is near the beam's path when it fires.",
	"The beam cannot be seen and burns eyes and skin at once, also off a mirror. Fire with the covers closed wherever the machine allows it, at the lowest power and the shortest pulse that leave a mark, and never bypass an interlock.",
	"Turning screws with open covers is service: for trained people, as the maker instructs, in a cleared and marked area, everyone near it in eyewear marked for 10 600 nm. Afterwards restore every interlock and test it.",
	"No hands in the tube's bay until mains is isolated and the charge is gone: its supply can kill.",
	"Stay and watch until the tape is cold, extraction on, fire-proof backing behind the target, the right extinguisher at hand.",
}

// Cautions are the safety lines that belong with every plan, for one line each.
// The caller owns the copy.
func Cautions() []string { return slices.Clone(cautions) }
