package evidence

// cautionLead stands above the cautions.
const cautionLead = "This sheet gives advice only and commands no machine. Local rules, the machine maker’s instructions and the laser safety officer come first: where they differ from these lines, follow them."

// cautions stand on every sheet: whoever reads it may fire next, or turn a
// screw. The substance is common to laser safety (IEC 60825-1, IEC TR 60825-14);
// the wording is ours.
var cautions = []string{
	"Covers: a machine that is safe while closed is an open Class 4 laser once a cover is off or an interlock is defeated. Mark with the covers closed wherever the machine allows it, and never bypass an interlock for a test mark.",
	"Beam: it cannot be seen, and it burns eyes and skin at once, also off a mirror or a stray surface. Use the lowest power and the shortest pulse that leave a mark.",
	"Hands: keep face, hands and sleeves out of the beam’s path. Never place, hold or take a target while the source can fire: switch to safe, wait, then reach in.",
	"Screws: adjusting with open covers is service, for trained people, as the maker instructs, in a cleared and marked area. Afterwards restore every interlock and test it.",
	"Eyes: everyone near an open machine wears eyewear marked for 10 600 nm. Ordinary glasses do not protect, and eyewear is the last barrier, not the first.",
	"High voltage: the tube’s supply can kill. No hands in the tube’s bay until mains is isolated and the charge is gone. Coolant flows before anyone fires.",
	"Fire: tape, paper and plastic burn. Fire-proof backing behind the target, the right extinguisher at hand, and somebody watching until all is cold.",
	"Smoke: extraction on. No PVC, vinyl or other chlorinated tape.",
}
