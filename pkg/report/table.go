package report

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// Units are the unit that WriteTable prints lengths in.
type Units string

// The units there are. JSON is always in millimetres.
const (
	Millimetres Units = "mm"
	Inches      Units = "in"
)

// mmPerInch is exact by definition.
const mmPerInch = 25.4

// From converts mm to the unit. Anything but Inches is millimetres.
func (u Units) From(mm float64) float64 {
	if u == Inches {
		return mm / mmPerInch
	}
	return mm
}

// Name is how the unit is written: "mm" or "in".
func (u Units) Name() string {
	if u == Inches {
		return string(Inches)
	}
	return string(Millimetres)
}

// Length is an exact length with its unit, as a limit is printed: "2 mm", to three
// significant digits.
func (u Units) Length(mm float64) string {
	return strconv.FormatFloat(u.From(mm), 'g', 3, 64) + " " + u.Name()
}

// WriteTable writes the measurements for people: a row for each, columns
// aligned, and below a row its refusal and its warnings in full. A note at the
// end says what the columns mean. Numbers are rounded by Round; nothing is
// written for an empty list.
func WriteTable(w io.Writer, list []Measurement, units Units) error {
	if len(list) == 0 {
		return nil
	}
	table := newGrid(append([]string{"photo", "mark"}, numberHeadings(units)...))
	for _, m := range list {
		table.add(append([]string{OneLine(m.Photo.File), OneLine(m.Mark)}, numbers(m, units)...), remarks(m))
	}
	var b strings.Builder
	table.write(&b)
	writeNote(&b, list)
	if _, err := io.WriteString(w, b.String()); err != nil {
		return fmt.Errorf("writing the table: %w", err)
	}
	return nil
}

// numberHeadings are the headings of numbers.
func numberHeadings(units Units) []string {
	unit := " " + units.Name()
	return []string{"left/right" + unit, "up/down" + unit, "distance" + unit, "clock", "rings", "verdict"}
}

// numbers are the cells of a row that hold a measurement's numbers. Without a
// number there is one cell, which says why.
func numbers(m Measurement, units Units) []string {
	if m.Offset == nil {
		return []string{notMeasured(m)}
	}
	radius := 0.0
	if m.Uncertainty != nil {
		radius = m.Uncertainty.RadiusMM
	}
	o, u := m.Offset, units.From(radius)
	return []string{
		Side(units.From(o.RightMM), u, "left", "right"),
		Side(units.From(o.UpMM), u, "down", "up"),
		Format(units.From(o.DistanceMM), u),
		OneLine(o.Clock),
		FormatValue(o.Rings, ringsRadius(o, radius)),
		verdict(m.Verdict, units),
	}
}

// notMeasured names the refusal's code where the numbers would stand.
func notMeasured(m Measurement) string {
	if m.Refusal == nil {
		return OneLine(m.Status)
	}
	return OneLine(m.Status + ": " + m.Refusal.Code)
}

// Side is a signed value in words, rounded to fit its uncertainty by Round:
// "0.440 left". Zero and what is no number have no side.
func Side(value, u float64, negative, positive string) string {
	text := FormatValue(math.Abs(value), u)
	switch {
	case strings.Trim(text, "0.") == "" || !finite(value):
		return text
	case value < 0:
		return text + " " + negative
	}
	return text + " " + positive
}

// ringsRadius is the uncertainty's radius in rings, near enough to know how
// many digits mean something: rings and distance grow in proportion up to the
// first ring and nearly so beyond.
func ringsRadius(o *Offset, radiusMM float64) float64 {
	return radiusMM * o.Rings / o.DistanceMM
}

// verdict is the state and the limit; what is not clear has its probability.
func verdict(v *Verdict, units Units) string {
	if v == nil {
		return "-"
	}
	limit := units.Length(v.LimitMM)
	switch v.State {
	case "inside", "outside":
		return v.State + " the limit of " + limit
	}
	return fmt.Sprintf("%s: %.0f %% likely inside %s", OneLine(v.State), 100*v.Probability, limit)
}

// remarks are the refusal's sentence and the warnings, which stand below a row.
func remarks(m Measurement) (lines []string) {
	if m.Refusal != nil {
		lines = append(lines, OneLine(m.Refusal.Text))
	}
	for _, warning := range m.Warnings {
		lines = append(lines, fmt.Sprintf("warning (%s): %s", OneLine(warning.Code), OneLine(warning.Text)))
	}
	return lines
}

// writeNote explains the columns, when there is a number to explain.
func writeNote(b *strings.Builder, list []Measurement) {
	for _, m := range list {
		if m.Offset == nil || m.Uncertainty == nil {
			continue
		}
		fmt.Fprintf(b, "\nLeft, right, up, down and the clock are as you face the target with its index mark at the top (12:00).\n"+
			"The true place lies within ± of the one stated, in any direction, in %.0f of 100 cases.\n"+
			"Rings: 0 is the centre, 1 is on the first ring, 2 on the second.\n", 100*m.Uncertainty.Coverage)
		return
	}
}
