package main

import (
	"fmt"
	"io"
	"slices"
	"time"

	"burngauge.dev/burngauge/pkg/rehearsal"
)

// tally is what the machines of one level came to.
type tally struct {
	level rehearsal.Level
	runs  []run

	handFires, handTouches, handGood int
}

// bound is a share of machines that must be good after so many rounds.
type bound struct {
	rounds int
	mm     float64
	share  float64
}

// bounds are the numbers to reach.
var bounds = map[rehearsal.Level][]bound{
	rehearsal.Easy: {{1, limitMM, 1}, {1, 0.6, 0.5}},
	rehearsal.Worn: {{1, limitMM, 0.75}, {2, limitMM, 1}},
	rehearsal.Hard: {{2, limitMM, 0.9}, {3, limitMM, 1}},
}

const (
	slowestPlan  = 200 * time.Millisecond
	leastCovered = 0.95
)

// hand adds what the hand procedure takes on the same machine.
func (t *tally) hand(seed uint64) error {
	fires, touches, good, err := byHand(seed, t.level)
	if err != nil {
		return err
	}
	t.handFires, t.handTouches = t.handFires+fires, t.handTouches+touches
	if good {
		t.handGood++
	}
	return nil
}

// within is the share of machines whose worst spot is within mm after the rounds.
func (t *tally) within(rounds int, mm float64) float64 {
	n := 0
	for _, r := range t.runs {
		if r.after(rounds) <= mm {
			n++
		}
	}
	return float64(n) / float64(len(t.runs))
}

// covered is the share of predictions that came true within their radius.
func (t *tally) covered() float64 {
	in, all := 0, 0
	for _, r := range t.runs {
		in, all = in+r.inside, all+r.inside+r.outside
	}
	return float64(in) / float64(max(all, 1))
}

// median of the worst spots after one round.
func (t *tally) median() float64 {
	var list []float64
	for _, r := range t.runs {
		list = append(list, r.after(1))
	}
	slices.Sort(list)
	return list[len(list)/2]
}

// took is the median time of the machines' slowest plans: one alone may have
// waited for another program.
func (t *tally) took() time.Duration {
	var list []time.Duration
	for _, r := range t.runs {
		list = append(list, r.slowest)
	}
	slices.Sort(list)
	return list[len(list)/2]
}

func (t *tally) row() string {
	n := float64(len(t.runs))
	fires, touches := 0, 0
	for _, r := range t.runs {
		fires, touches = fires+r.fires, touches+r.touches
	}
	return fmt.Sprintf("| %s | %.0f, %.0f, %.0f %% | %.2f mm | %.0f %% | %.1f %% | %.1f, %.1f | %.1f, %.1f; good at the end: %.0f %% | %d ms |",
		t.level, 100*t.within(1, limitMM), 100*t.within(2, limitMM), 100*t.within(3, limitMM), t.median(), 100*t.within(1, 0.6),
		100*t.covered(), float64(fires)/n, float64(touches)/n, float64(t.handFires)/n, float64(t.handTouches)/n, 100*float64(t.handGood)/n, t.took().Milliseconds())
}

// check prints what is not reached.
func (t *tally) check(w io.Writer) bool {
	ok := true
	miss := func(format string, args ...any) {
		fmt.Fprintf(w, "not reached, %s: "+format+"\n", append([]any{t.level}, args...)...)
		ok = false
	}
	for _, b := range bounds[t.level] {
		if got := t.within(b.rounds, b.mm); got < b.share {
			miss("%.0f %% within %g mm after %d rounds, not %.0f %%", 100*got, b.mm, b.rounds, 100*b.share)
		}
	}
	if got := t.covered(); got < leastCovered {
		miss("%.1f %% of the predictions came true, not %.0f %%", 100*got, 100*leastCovered)
	}
	if got := t.took(); got > slowestPlan {
		miss("a plan takes %v, not %v", got, slowestPlan)
	}
	return ok
}
