package plan

import "slices"

// cautions stand on every plan: whoever reads it fires and turns screws next. The
// substance is common to laser safety (IEC 60825-1, IEC TR 60825-14); the wording
// is ours.
var cautions = []string{
	"This is advice, and it commands nothing. The machine maker’s instructions, local rules and your laser safety officer come first. Work with open covers is for people trained for it.",
	"Before you touch a screw: source switched to safe, wait, make sure that nobody else can fire. Open only what the maker’s instructions open, in a cleared and marked place, with others kept out.",
	"With a cover off or an interlock defeated the machine is an open Class 4 laser. Fire with the covers closed wherever the machine allows it, and never defeat an interlock for a test mark.",
	"The beam cannot be seen. It burns eyes and skin at once, also off a mirror or a stray surface. Nobody’s face, hand or sleeve is near its path; lowest power and shortest pulse that leave a mark.",
	"Everyone near an open machine wears eyewear marked for 10 600 nm. Ordinary glasses do not protect, and eyewear is the last barrier.",
	"The tube’s supply can kill: no hands in its bay unless mains is isolated and the charge is gone. Coolant flows before anyone fires.",
	"Tape burns and its smoke is harmful: fire-proof backing behind the target, extraction on, extinguisher at hand, stay until all is cold. No PVC or other chlorinated tape.",
	"Afterwards close every cover, and restore and test every interlock.",
}

// Cautions are the safety lines that belong with every plan, for one line each.
// The caller owns the copy.
func Cautions() []string { return slices.Clone(cautions) }
