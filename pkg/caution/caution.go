// Package caution holds the safety lines that stand wherever someone is told to
// fire or to turn a screw, so that every program, sheet and plan says the same.
// The substance is common to laser safety (IEC 60825-1, IEC TR 60825-14); the
// wording is ours.
package caution

import "strings"

// Lines are the cautions, one line of text each. The caller owns the copy.
func Lines() []string {
	return []string{
		"Covers: a machine that is safe while closed is an open Class 4 laser once a cover is off or an interlock is defeated. Fire with the covers closed wherever the machine allows it, and never defeat an interlock for a test mark.",
		"Screws: adjusting with open covers is service, for trained people, as the maker instructs, in a cleared and marked place, with others kept out. Before you touch a screw: source switched to safe, wait, and nobody else can fire. Afterwards close every cover, and restore and test every interlock.",
		"Beam: it cannot be seen, and it burns eyes and skin at once, straight from the tube, off a mirror or off a stray surface. Use the lowest power and the shortest pulse that leave a mark.",
		"Hands: keep face, hands and sleeves out of the beam’s path. Never place, hold or take a target while the source can fire: switch to safe, wait, then reach in.",
		"Eyes: everyone near an open machine wears eyewear marked for 10 600 nm. Ordinary glasses do not protect, and eyewear is the last barrier, not the first.",
		"Tube: its supply carries high voltage that can kill. No hands in its bay until mains is isolated and the charge is gone. Coolant flows before anyone fires.",
		"Fire: tape, paper and plastic burn. Fire-proof backing behind the target, the right extinguisher at hand, and somebody watching until all is cold.",
		"Smoke: it is harmful. Extraction on. No PVC, vinyl or other chlorinated tape.",
	}
}

// Text is the lines for a terminal: broken to a width in letters, each line
// indented by two spaces, each caution's further lines by four.
func Text(width int) string {
	var b strings.Builder
	for _, caution := range Lines() {
		line := " "
		for _, word := range strings.Fields(caution) {
			if len([]rune(line))+1+len([]rune(word)) > width {
				b.WriteString(line + "\n")
				line = "   "
			}
			line += " " + word
		}
		b.WriteString(line + "\n")
	}
	return strings.TrimSuffix(b.String(), "\n")
}
