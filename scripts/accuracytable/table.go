package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"burngauge.dev/burngauge/pkg/photoset"
	"burngauge.dev/burngauge/pkg/stat"
)

func writeRows(w io.Writer, rows []row) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "\tgot\tbound\t")
	for _, r := range rows {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", r.what, r.got, r.bound, r.state)
	}
	t.Flush()
}

// writeCategories prints one line for each category, in the truth's order.
func writeCategories(w io.Writer, all []outcome) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "category\texpect\tmarks\tmeasured\tmedian\t95th\tworst mm\tworst ratio\tcovered\trefused")
	for _, name := range categories(all) {
		fmt.Fprintln(t, categoryLine(name, all))
	}
	t.Flush()
}

func categories(all []outcome) []string {
	var names []string
	for _, o := range all {
		if !slices.Contains(names, o.photo.Category) {
			names = append(names, o.photo.Category)
		}
	}
	return names
}

func categoryLine(name string, all []outcome) string {
	var in []outcome
	for _, o := range all {
		if o.photo.Category == name {
			in = append(in, o)
		}
	}
	errors := collect(in, outcome.counts, outcome.scoredError)
	numbers := "-\t-\t-\t-\t-"
	if len(errors) > 0 {
		within := count(in, func(o outcome) bool { return o.counts() && o.covered() })
		numbers = fmt.Sprintf("%.3f\t%.3f\t%.3f\t%.2f\t%d/%d", stat.Quantile(errors, 0.5), stat.Quantile(errors, 0.95), stat.Quantile(errors, 1),
			stat.Quantile(collect(in, outcome.counts, outcome.ratio), 1), within, len(errors))
	}
	return fmt.Sprintf("%s\t%s\t%d\t%d\t%s\t%s", name, in[0].photo.Expect, len(in), count(in, outcome.measured), numbers, codes(in))
}

// codes counts the refusals: "no-mark 2, glare".
func codes(in []outcome) string {
	counts := map[string]int{}
	var order []string
	for _, o := range in {
		code := o.code()
		if o.measured() || code == "" {
			continue
		}
		if counts[code]++; counts[code] == 1 {
			order = append(order, code)
		}
	}
	for i, code := range order {
		if counts[code] > 1 {
			order[i] = fmt.Sprintf("%s %d", code, counts[code])
		}
	}
	return strings.Join(order, ", ")
}

// writeMarks prints one line for each mark.
func writeMarks(w io.Writer, all []outcome) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "photo\tmark\tcategory\tstatus\tcode\terror mm\tradius mm\tratio")
	for _, o := range all {
		numbers := "-\t-\t-"
		if o.counts() {
			numbers = fmt.Sprintf("%.4f\t%.4f\t%.2f", o.scoredError(), o.radius(), o.ratio())
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\n", o.photo.File, o.mark, o.photo.Category, o.said.Status, o.code(), numbers)
	}
	t.Flush()
}

// faults of one mark: what puts, or helps to put, a row below its bound.
func faults(o outcome) []string {
	var out []string
	if o.missed() {
		out = append(out, "not measured: "+o.code())
	}
	if o.overbold() {
		out = append(out, "measured, must be refused")
	}
	if !o.counts() {
		return out
	}
	if !o.photo.OneCircle() && o.scoredError() > worstMM {
		out = append(out, fmt.Sprintf("error %.3f mm", o.scoredError()))
	}
	if !o.covered() {
		out = append(out, fmt.Sprintf("true error %.4f mm beyond the stated %.4f", o.trueError(), o.radius()))
	}
	if o.wrongSide() {
		out = append(out, "wrong side of the limit: said "+o.said.Verdict.State)
	}
	return out
}

// writeFaults names the photos that fail.
func writeFaults(w io.Writer, all []outcome) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, o := range all {
		if f := faults(o); len(f) > 0 {
			fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", o.photo.File, o.mark, o.photo.Category, strings.Join(f, "; "))
		}
	}
	t.Flush()
}

// writeBatches prints a line for each call of burngauge: target, mark and the
// photos' paths, between tabs.
func writeBatches(w io.Writer, batches []photoset.Batch) {
	for _, b := range batches {
		fmt.Fprintf(w, "%s\t%s\t%s\n", b.Target(), b.Mark, strings.Join(b.Paths(), " "))
	}
}
