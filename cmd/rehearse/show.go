package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// newShowCmd is `rehearse show`.
func newShowCmd(streams terminal.Streams) *cobra.Command {
	reveal := false
	cmd := &cobra.Command{
		Use:   "show BENCH",
		Short: "Show what has been done to a bench, or what is hidden",
		Long: `Show what whoever works on the machine knows: rounds fired, screws turned. With
--reveal, show also what is wrong with it and where the beam really lands. That is for
the trainer, and for the end of the exercise.`,
		Example: `  rehearse show bench
  rehearse show bench --reveal`,
		Args: command.One("bench", "rehearse show BENCH"),
		RunE: func(_ *cobra.Command, args []string) error {
			f, err := open(args[0])
			if err != nil {
				return err
			}
			page := &page{bench: f.bench}
			page.known()
			if reveal {
				page.hidden()
				page.spots()
			}
			_, err = io.WriteString(streams.Out, page.text.String())
			return command.Written(err)
		},
	}
	cmd.Flags().BoolVar(&reveal, "reveal", false, "print the hidden misalignment and the true spots")
	return cmd
}

// page gathers the text, so that a failing output is found once, at the end.
type page struct {
	bench *rehearsal.Bench
	text  strings.Builder
}

// line writes one line.
func (p *page) line(format string, args ...any) { fmt.Fprintf(&p.text, format+"\n", args...) }

// table writes a head and rows with aligned columns, indented.
func (p *page) table(head string, rows [][]string) {
	t := tabwriter.NewWriter(&p.text, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "  "+strings.ReplaceAll(head, "|", "\t"))
	for _, r := range rows {
		fmt.Fprintln(t, "  "+strings.Join(r, "\t"))
	}
	t.Flush() // a strings.Builder never fails
}

// known is what a technician can know.
func (p *page) known() {
	b := p.bench
	p.line("machine: %s", b.Profile.Name)
	p.line("level: %s, seed: %d", b.Level, b.Seed)
	round := b.Round()
	fires := b.Fires()
	if len(fires) == 0 || fires[len(fires)-1].Round < round {
		p.line("round: %d, not fired yet", round)
	} else {
		p.line("round: %d, fired", round)
	}
	for _, f := range fires {
		p.line("  round %d: fired at %s", f.Round, strings.Join(f.Stations, ", "))
	}
	p.screws()
}

// screws lists those that do not stand where they did.
func (p *page) screws() {
	var rows [][]string
	for i, m := range p.bench.Mounts() {
		for j, name := range machine.ScrewNames {
			at := p.bench.Turned(i, j)
			if math.Abs(at) < 1e-9 { // turned there and back: rounding
				continue
			}
			rows = append(rows, []string{m.Name, name, fmt.Sprintf("%.4g", math.Abs(at)), way(at), fmt.Sprintf("%.4g", m.Screws.TravelTurns-math.Abs(at))})
		}
	}
	if len(rows) == 0 {
		p.line("screws: all where they were at the start")
		return
	}
	p.line("screws, in turns from the start:")
	p.table("mirror|screw|turned|way|left that way", rows)
}

// hidden is what is wrong.
func (p *page) hidden() {
	h := p.bench.Hidden
	u, v := p.bench.Across()
	p.line("\nhidden: source; across the beam lie u, along %s of the machine, and v, along %s", numbers(u[:], "%.4g"), numbers(v[:], "%.4g"))
	p.table("what|aim deg about u, v|shift mm along u, v", [][]string{
		{"beam", numbers(h.Source.AimDeg[:], "%+.3f"), numbers(h.Source.ShiftMM[:], "%+.2f")},
		{"pointer, from the beam", numbers(h.Pointer.AimDeg[:], "%+.3f"), numbers(h.Pointer.ShiftMM[:], "%+.2f")},
	})
	p.line("hidden: mirrors, seen from behind")
	var rows [][]string
	for i, m := range h.Mirrors {
		rows = append(rows, append([]string{p.bench.Profile.Mirrors[i].Name, numbers(m.TiltDeg[:], "%+.3f"), numbers(m.ShiftMM[:], "%+.2f")},
			screwCells(m.ScrewFaults)...))
	}
	if f := h.PointerScrews; f != nil {
		rows = append(rows, append([]string{rehearsal.PointerMount, "-", "-"}, screwCells(*f)...))
	}
	p.table("mirror|tilt deg about right, up|shift mm right, up, normal|screw gain A, B, C|backlash turns A, B, C", rows)
	p.line("hidden: lengths, true over the profile's, from the source on: %s", numbers(h.Legs, "%.4f"))
	p.line("hidden: height of the tape above the rings: %s", tapeHeight(h))
	p.line("hidden: twist of the gantry at the far corner: %s mm", numbers([]float64{h.TwistMM}, "%+.2f"))
}

// tapeHeight is the tape's in words; older benches have none of their own.
func tapeHeight(h rehearsal.Faults) string {
	if h.TapeMM == 0 {
		return "as the target's spec states it, else 0"
	}
	return fmt.Sprintf("%.3f mm", h.TapeMM)
}

// screwCells are what is wrong with a mount's screws, in a table.
func screwCells(f rehearsal.ScrewFaults) []string {
	return []string{numbers(f.Gain[:], "%.3f"), numbers(f.BacklashTurns[:], "%.3f")}
}

// spots is where the beam and the pointer land.
func (p *page) spots() {
	p.line("\ntrue spots, as one faces the target")
	var rows [][]string
	dots := p.bench.PointerSpots()
	for i, s := range p.bench.Spots() {
		rows = append(rows, []string{s.Station, place(s), fmt.Sprintf("%.2f", s.Distance()), note(s), dot(dots[i])})
	}
	p.table("station|beam mm right, up|mm off|beam|pointer mm right, up", rows)
}

// dot is the pointer's spot in words: one that falls off a mirror or the tape is nowhere.
func dot(s rehearsal.Spot) string {
	if s.Missing {
		return "missing"
	}
	return place(s)
}

// place is a spot in words.
func place(s rehearsal.Spot) string {
	if math.IsNaN(s.RightMM) {
		return "-"
	}
	return numbers([]float64{s.RightMM, s.UpMM}, "%+.2f")
}

// note says what becomes of the beam on its way.
func note(s rehearsal.Spot) string {
	switch {
	case s.Missing:
		return "missing"
	case s.Clipped:
		return "clipped"
	}
	return "whole"
}

// numbers writes a few numbers in one column. Nothing is written as less than nothing.
func numbers(list []float64, format string) string {
	words := make([]string, len(list))
	for i, v := range list {
		if words[i] = fmt.Sprintf(format, v); strings.Trim(words[i], "-0.") == "" {
			words[i] = fmt.Sprintf(format, 0.0)
		}
	}
	return strings.Join(words, " ")
}
