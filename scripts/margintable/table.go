package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"
)

// writeTable prints a block for each limit: its name, test and what follows, then a
// line for each kind.
func writeTable(w io.Writer, limits []limit) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "limit\tcases\thold\tmin\t5 %\t50 %\t95 %\tmax\tnearest\tin")
	for _, l := range limits {
		fmt.Fprintln(t, l.heading())
		for _, s := range l.sides {
			cells := []string{"  " + string(s.kind), fmt.Sprint(s.cases), fmt.Sprint(s.holding)}
			for _, v := range s.spread() {
				cells = append(cells, number(v))
			}
			cells = append(cells, number(s.nearestVal)+" ("+percent(s.nearest)+")", s.nearestIn)
			fmt.Fprintln(t, strings.Join(cells, "\t"))
		}
	}
	if len(limits) == 0 {
		fmt.Fprintln(t, "no decision was recorded")
	}
	return t.Flush()
}

// heading is the limit's first line.
func (l limit) heading() string {
	text := fmt.Sprintf("%s %s %s", l.name, l.test, number(l.value))
	if l.unit != "" {
		text = fmt.Sprintf("%s %s a limit that varies (values: %s)", l.name, l.test, l.unit)
	}
	text += ": " + l.then
	if l.tally {
		text += "; nearest of several"
	}
	if !math.IsNaN(l.mixed) {
		text += "; overlap " + percent(l.mixed)
	}
	if l.few() {
		text += "; few"
	}
	return text
}

func number(v float64) string {
	if math.IsNaN(v) {
		return "-"
	}
	return fmt.Sprintf("%.4g", v)
}

// percent is a part in hundredths, to two digits and never with an exponent above 1.
func percent(v float64) string {
	if math.IsNaN(v) {
		return "-"
	}
	if v >= 0.1 {
		return fmt.Sprintf("%.0f %%", 100*v)
	}
	return fmt.Sprintf("%.2g %%", 100*v)
}

// columns of the CSV.
var columns = []string{"name", "test", "limit", "unit", "then", "tally", "kind", "cases", "holding", "nothing", "min", "q05", "q50", "q95", "max",
	"nearest", "nearest_part", "nearest_photo", "overlap", "few", "without_kind"}

// writeCSV writes a row for each limit and kind; numbers in full, nothing for NaN.
func writeCSV(w io.Writer, limits []limit) error {
	out := csv.NewWriter(w)
	if err := out.Write(columns); err != nil {
		return err
	}
	for _, l := range limits {
		for _, s := range l.sides {
			row := []string{l.name, l.test, exact(l.value), l.unit, l.then, fmt.Sprint(l.tally), string(s.kind),
				fmt.Sprint(s.cases), fmt.Sprint(s.holding), fmt.Sprint(s.nothing)}
			for _, v := range s.spread() {
				row = append(row, exact(v))
			}
			row = append(row, exact(s.nearestVal), exact(s.nearest), s.nearestIn, exact(l.mixed), fmt.Sprint(l.few()), fmt.Sprint(l.noKind))
			if err := out.Write(row); err != nil {
				return err
			}
		}
	}
	out.Flush()
	return out.Error()
}

func exact(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return fmt.Sprint(v)
}
