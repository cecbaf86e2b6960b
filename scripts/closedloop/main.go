// Command closedloop plans simulated machines until there is nothing to do, and
// prints how many rounds that took, next to the hand procedure's work.
package main

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"time"

	"burngauge.dev/burngauge/pkg/rehearsal"
)

func main() {
	seeds := flag.Int("seeds", 100, "machines of each level")
	first := flag.Uint64("first", 0, "first seed")
	verbose := flag.Bool("v", false, "print every machine")
	flag.Parse()
	if err := table(*first, *seeds, *verbose); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func table(first uint64, seeds int, verbose bool) error {
	for _, level := range rehearsal.Levels {
		var runs []run
		for seed := range uint64(seeds) {
			r, err := loop(first+seed, level)
			if err != nil {
				return fmt.Errorf("%s, seed %d: %w", level, seed, err)
			}
			if verbose {
				fmt.Println(level, seed, r)
			}
			runs = append(runs, r)
		}
		fmt.Println(level, summary(runs))
	}
	return nil
}

func summary(runs []run) string {
	within := func(rounds int, mm float64) int {
		n := 0
		for _, r := range runs {
			if r.after(rounds) <= mm {
				n++
			}
		}
		return n * 100 / len(runs)
	}
	var first []float64
	var slowest time.Duration
	fires, touches, in, out := 0, 0, 0, 0
	for _, r := range runs {
		first = append(first, r.after(1))
		fires, touches, in, out = fires+r.fires, touches+r.touches, in+r.inside, out+r.outside
		slowest = max(slowest, r.slowest)
	}
	slices.Sort(first)
	n := float64(len(runs))
	return fmt.Sprintf("within 2 mm after 1/2/3: %d %d %d %%; median after 1: %.2f mm; 0.6 mm: %d %%; fires %.1f touches %.1f; predicted %.1f %%; slowest %v",
		within(1, 2), within(2, 2), within(3, 2), first[len(first)/2], within(1, 0.6), float64(fires)/n, float64(touches)/n, 100*float64(in)/float64(in+out), slowest)
}
