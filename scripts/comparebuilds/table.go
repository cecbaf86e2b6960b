package main

import (
	"fmt"
	"io"
	"slices"
)

// The kinds of things compared, in the order in which they are printed.
const (
	kindPhotos       = "photos of fresh sets"
	kindTruths       = "their truth.json"
	kindMeasurements = "measurements"
	kindExits        = "exit codes"
	kindFired        = "photos fired"
	kindFiredTruths  = "truth of photos fired"
	kindReports      = "survey reports"
	kindPlans        = "plans"
)

var kinds = []string{kindPhotos, kindTruths, kindMeasurements, kindExits, kindFired, kindFiredTruths, kindReports, kindPlans}

// output is one thing that a build gave.
type output struct {
	Kind string `json:"kind"`
	Name string `json:"name"` // "fixtures/photos clean.jpg burn"
	JSON bool   `json:"json"` // Text is a JSON document; otherwise all of it counts
	Text string `json:"text"`
}

// table counts what is the same, by kind.
type table struct {
	same   map[string]int
	differ map[string][]string // a line each
}

func newTable() *table { return &table{same: map[string]int{}, differ: map[string][]string{}} }

// add compares what two builds gave for one case.
func (t *table) add(old, new []output) error {
	given := map[[2]string]output{}
	for _, o := range new {
		given[[2]string{o.Kind, o.Name}] = o
	}
	for _, a := range old {
		key := [2]string{a.Kind, a.Name}
		b, found := given[key]
		delete(given, key)
		if !found {
			t.note(a, "the new build gave none")
			continue
		}
		what, err := a.against(b)
		if err != nil {
			return fmt.Errorf("%s, %s: %w", a.Kind, a.Name, err)
		}
		t.note(a, what)
	}
	for _, b := range new {
		if _, left := given[[2]string{b.Kind, b.Name}]; left {
			t.note(b, "the old build gave none")
		}
	}
	return nil
}

// note counts one thing; what is "" when both builds gave the same.
func (t *table) note(o output, what string) {
	if what == "" {
		t.same[o.Kind]++
		return
	}
	t.differ[o.Kind] = append(t.differ[o.Kind], o.Name+": "+what)
}

// against says what differs, "" when nothing does.
func (o output) against(new output) (string, error) {
	if !o.JSON || !new.JSON {
		if o.Text == new.Text {
			return "", nil
		}
		return fmt.Sprintf("%s, now %s", cut(o.Text), cut(new.Text)), nil
	}
	list, err := differences([]byte(o.Text), []byte(new.Text))
	switch {
	case err != nil || len(list) == 0:
		return "", err
	case len(list) == 1:
		return list[0].String(), nil
	}
	return fmt.Sprintf("%v; %d more", list[0], len(list)-1), nil
}

func cut(text string) string { return text[:min(len(text), longestShown)] }

// mostNamed is how many differing things of one kind are printed.
const mostNamed = 5

// write prints a line for each kind and the first that differ, and says whether
// all is the same.
func (t *table) write(w io.Writer) bool {
	same := true
	for _, kind := range kinds {
		n, differ := t.same[kind], t.differ[kind]
		if n+len(differ) == 0 {
			continue
		}
		fmt.Fprintf(w, "%-22s %5d same, %d differ\n", kind, n, len(differ))
		slices.Sort(differ)
		for i, line := range differ {
			if i == mostNamed {
				fmt.Fprintf(w, "  and %d more\n", len(differ)-i)
				break
			}
			fmt.Fprintf(w, "  %s\n", line)
		}
		same = same && len(differ) == 0
	}
	return same
}
