package machine

import (
	"fmt"
	"strconv"
	"strings"
)

// learntHead stands at the top of a written profile.
const learntHead = `# A machine profile. Its lengths are in mm; what each key means stands in the
# profile that mirrorplan machine new prints. gain is how far a screw really moves the plate, over pitch_mm,
# as learnt from past rounds, gain_u its standard uncertainty.
`

// YAML writes the profile as a file that Parse reads back as the same profile.
func (p Profile) YAML() []byte {
	var b strings.Builder
	b.WriteString(learntHead)
	fmt.Fprintf(&b, "name: %s\n", strconv.Quote(p.Name))
	fmt.Fprintf(&b, "source: {at_mm: %s, direction: %s}\nmirrors:\n", list(p.Source.AtMM[:]), list(p.Source.Direction[:]))
	for _, m := range p.Mirrors {
		fmt.Fprintf(&b, "  - name: %s\n    rides: %s\n    at_mm: %s\n", strconv.Quote(m.Name), m.Rides, list(m.AtMM[:]))
		fmt.Fprintf(&b, "    normal: %s\n    up: %s\n    clear_mm: %s\n", list(m.Normal[:]), list(m.Up[:]), number(m.ClearMM))
		m.Screws.write(&b)
	}
	t := p.Target
	fmt.Fprintf(&b, "target: {rides: %s, at_mm: %s, normal: %s, up: %s}\nstations:\n", t.Rides, list(t.AtMM[:]), list(t.Normal[:]), list(t.Up[:]))
	for _, s := range p.Stations {
		fmt.Fprintf(&b, "  %s: %s\n", strconv.Quote(s.Name), list([]float64{s.XMM, s.YMM}))
	}
	if m := p.Pointer; m != nil {
		fmt.Fprintf(&b, "pointer:\n    at_mm: %s\n    normal: %s\n    up: %s\n", list(m.AtMM[:]), list(m.Normal[:]), list(m.Up[:]))
		m.Screws.write(&b)
	}
	p.Faults.write(&b)
	return []byte(b.String())
}

func (s Screws) write(b *strings.Builder) {
	b.WriteString("    screws:\n")
	for i, p := range s.Points {
		learnt := ""
		if p.Gain != 0 {
			learnt = ", gain: " + number(p.Gain)
		}
		if p.Gain != 0 && p.GainU != 0 {
			learnt += ", gain_u: " + number(p.GainU)
		}
		fmt.Fprintf(b, "      %s: {at_mm: %s%s}\n", ScrewNames[i], list([]float64{p.RightMM, p.UpMM}), learnt)
	}
	way := "backward"
	if s.Forward {
		way = "forward"
	}
	fmt.Fprintf(b, "      pitch_mm: %s\n      clockwise: %s\n      travel_turns: %s\n      smallest_turn: %s\n",
		number(s.PitchMM), way, number(s.TravelTurns), number(s.SmallestTurn))
}

// write leaves out what the profile leaves to the rehearsal's level.
func (f Ranges) write(b *strings.Builder) {
	head := "rehearsal:\n"
	for _, k := range f.keyed() {
		if k.value != nil {
			fmt.Fprintf(b, "%s  %s: %s\n", head, k.key, number(*k.value))
			head = ""
		}
	}
}

// list writes numbers as a flow list of YAML.
func list(v []float64) string {
	words := make([]string, len(v))
	for i, x := range v {
		words[i] = number(x)
	}
	return "[" + strings.Join(words, ", ") + "]"
}

// number is the shortest text that reads back as the same number.
func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
