// Command closedloop plans simulated machines until there is nothing to do, and
// prints how many rounds that took and whether the predictions came true, next to
// what the hand procedure takes. Run it with
//
//	go run ./scripts/closedloop
package main

import (
	"flag"
	"fmt"
	"io"
	"os"

	"burngauge.dev/burngauge/pkg/rehearsal"
)

func main() {
	seeds := flag.Int("seeds", 100, "machines of each level")
	first := flag.Uint64("first", 0, "first seed")
	verbose := flag.Bool("v", false, "a line for each machine: worst spot before and after each round")
	flag.Parse()
	ok, err := table(os.Stdout, options{*seeds, *first, *verbose})
	if err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
	if !ok {
		os.Exit(1)
	}
}

type options struct {
	seeds   int
	first   uint64
	verbose bool
}

// table prints one row a level and says whether every bound is reached.
func table(w io.Writer, o options) (ok bool, err error) {
	ok = true
	fmt.Fprintf(w, "%d machines of each level, every spot within %g mm\n\n", o.seeds, limitMM)
	fmt.Fprintln(w, "| level | after 1, 2, 3 rounds | worst after 1, median | within 0.6 mm after 1 | came true within the radius | test fires, screws turned | by hand | a plan takes |")
	fmt.Fprintln(w, "| --- | --- | --- | --- | --- | --- | --- | --- |")
	for _, level := range rehearsal.Levels {
		t := tally{level: level}
		for seed := o.first; seed < o.first+uint64(o.seeds); seed++ {
			r, err := loop(seed, level)
			if err != nil {
				return false, fmt.Errorf("%s, seed %d: %w", level, seed, err)
			}
			if o.verbose {
				fmt.Fprintln(w, level, seed, r)
			}
			t.runs = append(t.runs, r)
			if err := t.hand(seed); err != nil {
				return false, err
			}
		}
		fmt.Fprintln(w, t.row())
		ok = t.check(w) && ok
	}
	return ok, nil
}
