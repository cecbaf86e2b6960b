package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/report"
)

// eighth is the turn that the table is for: small enough for any travel, large enough to
// be seen in the marks.
const eighth = 1.0 / 8

// stationsAcross is how many stations stand beside each other, so that a row
// fits an ordinary terminal.
const stationsAcross = 5

// checkPage gathers the text, so that a failing output is found once, at the end.
type checkPage struct {
	strings.Builder
	profile  machine.Profile
	response *machine.Response
}

// paths follows the beam at every station.
func paths(profile machine.Profile) ([]machine.Path, error) {
	var list []machine.Path
	for _, s := range profile.Stations {
		path, err := profile.Trace(s.Name)
		if err != nil {
			return nil, err
		}
		list = append(list, path)
	}
	return list, nil
}

// writeCheck writes where the beam goes and what each screw does.
func writeCheck(w io.Writer, profile machine.Profile, response *machine.Response) error {
	list, err := paths(profile)
	if err != nil {
		return err // Response has traced the same beam before
	}
	p := &checkPage{profile: profile, response: response}
	fmt.Fprintf(p, "machine: %s\n", profile.Name)
	fmt.Fprintf(p, "The beam meets %s and reaches the target at every station.\n", p.order())
	p.beam(list)
	p.effects()
	p.gains()
	p.WriteString(`
Right and up are positive, left and down negative, as you face the target with its
index mark at the top. Anticlockwise moves the spot the other way. Clockwise is as
seen from the screw's head.

To check this at the machine, fire at one station, turn one screw by an eighth, fire
there again, and turn it back. When the spot moves the other way, the screw's letter or
the profile's "clockwise" is wrong.

` + reminder + "\n")
	_, err = io.WriteString(w, p.String())
	return err
}

// order names the mirrors as the beam meets them.
func (p *checkPage) order() string {
	var names []string
	for _, m := range p.profile.Mirrors {
		names = append(names, m.Name)
	}
	if len(names) == 1 {
		return "mirror " + names[0]
	}
	return "mirrors " + strings.Join(names, ", ")
}

// table writes rows of cells with aligned columns, indented.
func (p *checkPage) table(rows [][]string) {
	t := tabwriter.NewWriter(p, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		fmt.Fprintln(t, "  "+strings.Join(r, "\t"))
	}
	t.Flush() // a strings.Builder never fails
}

// moved is mm with their sign, to a hundredth, which no reading is better than; a zero
// has no sign of its own.
func moved(mm float64) string { return fmt.Sprintf("%+5.2f", math.Round(100*mm)/100+0) }

// effects are the tables of what an eighth of a turn does.
func (p *checkPage) effects() {
	p.WriteString("\nAn eighth of a turn clockwise moves the spot by, mm right and up:\n")
	for from := 0; from < len(p.response.Stations); from += stationsAcross {
		to := min(from+stationsAcross, len(p.response.Stations))
		if from > 0 {
			p.WriteString("\n")
		}
		rows := [][]string{append([]string{"screw"}, p.response.Stations[from:to]...)}
		for j, s := range p.response.Screws {
			row := []string{s.Mirror + "/" + s.Screw}
			for i := from; i < to; i++ {
				d := p.response.PerTurn[i][j]
				row = append(row, moved(eighth*d[0])+" "+moved(eighth*d[1]))
			}
			rows = append(rows, row)
		}
		p.table(rows)
	}
}

// beam is the table of the beam's path: how long it is from part to part, and
// where the spot lands when everything is as the profile says.
func (p *checkPage) beam(paths []machine.Path) {
	p.WriteString("\nThe beam's way, mm from part to part, and its spot on the target, mm right and up:\n")
	head, from := []string{"station"}, "source"
	for _, m := range p.profile.Mirrors {
		head = append(head, from+" to "+m.Name)
		from = m.Name
	}
	rows := [][]string{append(head, from+" to target", "spot")}
	for _, path := range paths {
		row := []string{path.Station}
		for leg := range len(path.Points) - 1 {
			row = append(row, fmt.Sprintf("%.0f", path.LengthMM(leg)))
		}
		rows = append(rows, append(row, moved(path.RightMM)+" "+moved(path.UpMM)))
	}
	p.table(rows)
}

// gains lists what the profile has learnt of its screws.
func (p *checkPage) gains() {
	var rows [][]string
	for _, m := range p.profile.Mirrors {
		for i, s := range m.Screws.Points {
			if s.Gain != 0 {
				rows = append(rows, []string{m.Name + "/" + machine.ScrewNames[i], report.Format(s.Gain, s.GainU)})
			}
		}
	}
	if len(rows) == 0 {
		return
	}
	p.WriteString("\nThe profile's learnt gains are in this table; 1 is what pitch and\nplaces lead to, and ± is one standard uncertainty:\n")
	p.table(rows)
}
