package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"burngauge.dev/burngauge/pkg/target"
)

// WriteStations writes the report for people: the table of stations, where the
// pointer was measured a second one of beam and pointer, the photos that were
// not taken or belong to no station, and last the verdict. Warnings and
// refusals stand below their row in full. Numbers are rounded by Round.
func WriteStations(w io.Writer, r *Report, units Units) error {
	var b strings.Builder
	writeBurns(&b, r, units)
	writePointers(&b, r, units)
	writeOthers(&b, r, units)
	writeUnassigned(&b, r)
	writeNote(&b, r.measurements())
	writeTape(&b, r, units)
	if text := r.VerdictText(units); text != "" {
		fmt.Fprintf(&b, "\n%s: %s\n", OneLine(r.Verdict.State), OneLine(text))
	}
	if _, err := io.WriteString(w, b.String()); err != nil {
		return fmt.Errorf("writing the table of stations: %w", err)
	}
	return nil
}

// writeTape says which height of the tape was taken, where there are numbers.
func writeTape(b *strings.Builder, r *Report, units Units) {
	if slices.ContainsFunc(r.measurements(), func(m Measurement) bool { return m.Offset != nil }) {
		fmt.Fprintf(b, "Height of the mark above the rings, as the target's spec has it: %s.\n", units.Tape(r.Target))
	}
}

// Tape is the height above the rings that a target's marks are taken to lie at, and its
// standard uncertainty: "0.12 mm ± 0.04 mm".
func (u Units) Tape(spec target.Spec) string {
	if spec.TapeMM == 0 && spec.TapeUMM == 0 {
		return "0, on the rings' own plane"
	}
	return u.Length(spec.TapeMM) + " \u00b1 " + u.Length(spec.TapeUMM)
}

// measurements are all of the report's, in the order of its stations.
func (r *Report) measurements() (list []Measurement) {
	for _, s := range r.Stations {
		for _, m := range []*Measurement{s.Burn, s.Pointer} {
			if m != nil {
				list = append(list, *m)
			}
		}
		list = append(list, s.Others...)
	}
	return list
}

// absent are the expected stations that the report does not hold.
func (r *Report) absent() (names []string) {
	for _, name := range r.Expected {
		if !slices.ContainsFunc(r.Stations, func(s Station) bool { return s.Station == name }) {
			names = append(names, name)
		}
	}
	return names
}

// pointerOnly says whether the beam was not asked for.
func (r *Report) pointerOnly() bool {
	pointer := false
	for _, s := range r.Stations {
		if s.Burn != nil {
			return false
		}
		pointer = pointer || s.Pointer != nil
	}
	return pointer
}

// writeBurns is the table of corners.
func writeBurns(b *strings.Builder, r *Report, units Units) {
	if r.pointerOnly() {
		return
	}
	g := newGrid(append([]string{"station", "photo"}, numberHeadings(units)...))
	for _, s := range r.Stations {
		if s.Burn == nil {
			g.add([]string{OneLine(s.Station), OneLine(strings.Join(s.Photos, " ")), "not measured"}, nil)
			continue
		}
		g.add(append([]string{OneLine(s.Station), OneLine(s.Burn.Photo.File)}, numbers(*s.Burn, units)...), remarks(*s.Burn))
	}
	addAbsent(g, r)
	g.writeApart(b)
}

// addAbsent adds a row for each expected station without a photo.
func addAbsent(g *grid, r *Report) {
	for _, name := range r.absent() {
		g.add([]string{OneLine(name), "-", "no photo"}, nil)
	}
}

// writePointers writes the pointer's place and the beam's as seen from it.
func writePointers(b *strings.Builder, r *Report, units Units) {
	unit := " " + units.Name()
	g := newGrid([]string{"pointer at", "photo", "left/right" + unit, "up/down" + unit, "distance" + unit, "beam from it: left/right" + unit, "up/down" + unit, "apart" + unit})
	for _, s := range r.Stations {
		if s.Pointer == nil {
			continue
		}
		row := []string{OneLine(s.Station), OneLine(s.Pointer.Photo.File)}
		cells := numbers(*s.Pointer, units)
		if s.Pointer.Offset != nil {
			cells = append(cells[:3], partingCells(s.BeamFromPointer, units)...)
		}
		g.add(append(row, cells...), remarks(*s.Pointer))
	}
	if r.pointerOnly() {
		addAbsent(g, r)
	}
	g.writeApart(b)
}

// partingCells are right, up and distance of the beam from the pointer.
func partingCells(p *Parting, units Units) []string {
	if p == nil {
		return []string{"-", "-", "-"}
	}
	u := units.From(p.RadiusMM)
	return []string{
		Side(units.From(p.RightMM), u, "left", "right"),
		Side(units.From(p.UpMM), u, "down", "up"),
		Format(units.From(math.Hypot(p.RightMM, p.UpMM)), u),
	}
}

// writeOthers lists what was measured for a station and not taken.
func writeOthers(b *strings.Builder, r *Report, units Units) {
	g := newGrid(append([]string{"not taken", "photo", "mark"}, numberHeadings(units)...))
	for _, s := range r.Stations {
		for _, m := range s.Others {
			g.add(append([]string{OneLine(s.Station), OneLine(m.Photo.File), OneLine(m.Mark)}, numbers(m, units)...), remarks(m))
		}
	}
	g.writeApart(b)
}

// writeUnassigned lists the photos without a station.
func writeUnassigned(b *strings.Builder, r *Report) {
	g := newGrid([]string{"of no station", "reason"})
	for _, u := range r.Unassigned {
		g.add([]string{OneLine(u.Photo.File), OneLine(u.Reason)}, nil)
	}
	g.writeApart(b)
}
