package report

import "strings"

// Line is one measurement on one line, for people who wait for it: where it
// was taken, its numbers, the verdict, and what went wrong. station may be "".
// Numbers are rounded by Round.
func Line(station string, m Measurement, units Units) string {
	var parts []string
	if station != "" {
		parts = append(parts, OneLine(station))
	}
	parts = append(parts, OneLine(m.Photo.File), OneLine(m.Mark))
	cells := numbers(m, units)
	if m.Offset != nil {
		cells = []string{cells[0] + ", " + cells[1], cells[2] + " " + units.Name() + " at " + cells[3], cells[5]}
	}
	cells = append(cells, remarks(m)...)
	return strings.Join(append(parts, cells...), "  ")
}
