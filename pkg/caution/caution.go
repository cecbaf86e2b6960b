// Package caution holds the safety lines that stand wherever a person is asked to
// fire, to turn a screw or to measure inside a machine, so that every program,
// sheet and plan says the same.
//
// There is one list. Each line has a code and says to which work it belongs:
// For picks the whole lines, Brief the short ones for where room is scarce.
// The substance is common to laser safety (IEC 60825-1, IEC TR 60825-14) and to
// electrical work (EN 50110-1, 6.2: switch off, secure, make sure that it is dead);
// the wording is ours.
package caution

import "strings"

// Work is what a person is about to do. Works may be joined: Firing|Turning.
type Work uint8

// Firing is a mark, Turning a mirror's screw, Measuring the machine itself with a
// rule, between the tube and the mirrors.
const (
	Firing Work = 1 << iota
	Turning
	Measuring
)

// Caution is one line of the list.
type Caution struct {
	Code  string // names it: "covers"; no two are alike
	Work  Work   // all works that it belongs to
	Text  string // the whole line; begins with a word that says what it is about
	Brief string // the same as a sentence or two, "" when there is none
}

// Advice stands above any cautions: who comes first.
const Advice = "This is advice, and it commands nothing. The machine maker’s instructions, local rules and your laser safety officer come first: where they differ from these lines, follow them."

// briefAdvice is Advice for where room is scarce.
const briefAdvice = "Advice only: the machine maker’s instructions and your local rules come first; work with open covers is for trained people."

// licensed belongs to every line on the tube's supply.
const licensed = "Work on the supply and its leads is for licensed people where the law asks for it, and for nobody untrained."

// all is the one list, in the order in which it is shown.
var all = []Caution{
	{
		Code: "covers", Work: Firing | Turning,
		Text:  "Covers: a machine that is safe while closed is an open Class 4 laser once a cover is off or an interlock is defeated. Fire with the covers closed wherever the machine allows it, and never defeat an interlock for a test mark.",
		Brief: "Covers closed wherever the machine allows; never defeat an interlock.",
	}, {
		Code: "screws", Work: Turning,
		Text:  "Screws: adjusting with open covers is service, for trained people, as the maker instructs, in a cleared and marked place, with others kept out. Before you touch a screw: source switched to safe, wait, and nobody else can fire. Afterwards close every cover, and restore and test every interlock.",
		Brief: "Source switched to safe before you touch a screw.",
	}, {
		Code: "beam", Work: Firing | Turning,
		Text:  "Beam: it cannot be seen, and it burns eyes and skin at once, straight from the tube, off a mirror or off a stray surface. Use the lowest power and the shortest pulse that leave a mark.",
		Brief: "The beam is invisible and burns eyes and skin at once.",
	}, {
		Code: "hands", Work: Firing | Turning,
		Text:  "Hands: keep face, hands and sleeves out of the beam’s path. Never place, hold or take a target while the source can fire: switch to safe, wait, then reach in.",
		Brief: "Never reach in while it can fire.",
	}, {
		Code: "eyes", Work: Firing | Turning,
		Text:  "Eyes: everyone near an open machine wears eyewear marked for 10 600 nm. Ordinary glasses do not protect, and eyewear is the last barrier, not the first.",
		Brief: "Eyewear for 10 600 nm.",
	}, {
		Code: "tube", Work: Firing | Turning,
		Text: "Tube: its supply carries high voltage that can kill. No hands in its bay until mains is isolated and the charge is gone. " + licensed + " Coolant flows before anyone fires.",
	}, {
		Code: "fire", Work: Firing | Turning,
		Text:  "Fire: tape, paper and plastic burn. Fire-proof backing behind the target, the right extinguisher at hand, and somebody watching until all is cold.",
		Brief: "Tape, paper and plastic burn: fire-proof backing, extinguisher at hand, stay until cold.",
	}, {
		Code: "smoke", Work: Firing | Turning,
		Text:  "Smoke: it is harmful. Extraction on. No PVC, vinyl or other chlorinated tape.",
		Brief: "Extraction on. No PVC or vinyl tape.",
	}, {
		Code: "drawing", Work: Measuring,
		Text: "Drawing first: take the lengths from the maker’s drawing or manual where there is one. What need not be measured needs no open cover.",
	}, {
		Code: "who", Work: Measuring,
		Text: "Who: measuring behind a cover is service, for trained people, as the maker instructs, in a cleared and marked place, with others kept out.",
	}, {
		Code: "mains", Work: Measuring,
		Text:  "Mains: off at the isolator or the plug, not at the panel alone; secured, so that nobody else can switch it on; and checked to be off before a cover is opened. Never measure with the machine in standby or with an interlock defeated.",
		Brief: "Mains off, secured and checked to be off before a cover is opened.",
	}, {
		Code: "charge", Work: Measuring,
		Text:  "Charge: the tube’s supply carries high voltage that can kill, and it keeps a charge after mains is off. Wait as long as the maker states. Keep hands and rule out of the tube’s bay and away from the tube’s ends and leads: measure from the outside of its mount. A steel rule or tape conducts; take one of wood or plastic.",
		Brief: "Wait as long as the maker states: the tube’s supply keeps a charge. No hands and no steel rule in the tube’s bay.",
	}, {
		Code: "supply", Work: Measuring,
		Text:  "Supply: do not touch it to measure. " + licensed,
		Brief: licensed,
	}, {
		Code: "glass", Work: Measuring,
		Text: "Glass: touch no mirror’s face with rule or fingers, and lean nothing on the tube.",
	}, {
		Code: "close", Work: Measuring,
		Text:  "Afterwards: take out every tool, close every cover, restore and test every interlock, and only then switch mains on.",
		Brief: "Afterwards close every cover, and restore and test every interlock.",
	},
}

// List is a copy of the whole list.
func List() []Caution { return append([]Caution(nil), all...) }

// For is the text of every line that belongs to one of the works, in the list's
// order. The caller owns the copy.
func For(work Work) []string {
	var lines []string
	for _, c := range all {
		if c.Work&work != 0 {
			lines = append(lines, c.Text)
		}
	}
	return lines
}

// Brief is who comes first, then what has a short form among the lines that belong
// to one of the works: for a printed target or a command's last lines, beside which
// the whole list is in reach.
func Brief(work Work) []string {
	lines := []string{briefAdvice}
	for _, c := range all {
		if c.Work&work != 0 && c.Brief != "" {
			lines = append(lines, c.Brief)
		}
	}
	return lines
}

// Reminder is Brief as one paragraph for a terminal, broken to a width in letters and
// ended by the command that shows the whole list. There is no newline at the end.
func Reminder(work Work, command string, width int) string {
	return broken(strings.Join(Brief(work), " ")+" ("+command+")", width, "", "")
}

// Lines are those for firing and turning screws, one line of text each. The caller
// owns the copy.
func Lines() []string { return For(Firing | Turning) }

// Text is Lines for a terminal, as Wrap breaks them.
func Text(width int) string { return Wrap(Lines(), width) }

// Wrap breaks lines for a terminal to a width in letters, each line indented by two
// spaces, each caution's further lines by four. There is no newline at the end.
func Wrap(lines []string, width int) string {
	cautions := make([]string, len(lines))
	for i, line := range lines {
		cautions[i] = broken(line, width, "  ", "    ")
	}
	return strings.Join(cautions, "\n")
}

// broken is a text in lines of at most so many letters, but for longer words, with
// what stands before the first line and before the others.
func broken(text string, width int, first, rest string) string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = first + word
		case len([]rune(line))+1+len([]rune(word)) > width:
			lines = append(lines, line)
			line = rest + word
		default:
			line += " " + word
		}
	}
	return strings.Join(append(lines, line), "\n")
}
