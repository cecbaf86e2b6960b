package main

import (
	"fmt"
	"io"
	"slices"
	"time"

	"burngauge.dev/burngauge/pkg/plan"
	"burngauge.dev/burngauge/pkg/rehearsal"
)

// tally is what the machines of one level came to.
type tally struct {
	level rehearsal.Level
	runs  []run
	hands []handRun
}

// bound is a share of machines that must be good after so many rounds.
type bound struct {
	rounds int
	mm     float64
	share  float64
}

// bounds are the numbers to reach: what a technician asks of the plans.
var bounds = map[rehearsal.Level][]bound{
	rehearsal.Easy: {{1, limitMM, 1}, {1, closeMM, 0.5}},
	rehearsal.Worn: {{1, limitMM, 0.75}, {2, limitMM, 1}},
	rehearsal.Hard: {{2, limitMM, 0.9}, {3, limitMM, 1}},
}

// closeMM is where a spot counts as well set, a third of the limit (chosen).
const closeMM = 0.6

const (
	slowestPlan  = 200 * time.Millisecond
	leastCovered = 0.95
)

// add plans one more machine, and has the same one adjusted by hand.
func (t *tally) add(seed uint64, settings plan.Settings) error {
	r, err := loop(seed, t.level, settings)
	if err != nil {
		return err
	}
	h, err := byHand(seed, t.level)
	if err != nil {
		return err
	}
	t.runs, t.hands = append(t.runs, r), append(t.hands, h)
	return nil
}

// handWithin is the share of machines that are good by hand after the rounds.
func (t *tally) handWithin(rounds int) float64 {
	n := 0
	for _, h := range t.hands {
		if h.after(rounds) <= limitMM {
			n++
		}
	}
	return float64(n) / float64(max(len(t.hands), 1))
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
	fires, touches, handFires, handTouches := 0, 0, 0, 0
	for i, r := range t.runs {
		fires, touches = fires+r.fires, touches+r.touches
		handFires, handTouches = handFires+t.hands[i].fires, handTouches+t.hands[i].touches
	}
	return fmt.Sprintf("| %s | %.0f, %.0f, %.0f %% | %.2f mm; %.0f %% | %.1f %% | %.1f, %.1f | %.0f, %.0f, %.0f %%; %.0f %% | %.1f, %.1f | %d ms |",
		t.level, 100*t.within(1, limitMM), 100*t.within(2, limitMM), 100*t.within(3, limitMM), t.median(), 100*t.within(1, closeMM),
		100*t.covered(), float64(fires)/n, float64(touches)/n,
		100*t.handWithin(1), 100*t.handWithin(2), 100*t.handWithin(3), 100*t.handWithin(cycles),
		float64(handFires)/n, float64(handTouches)/n, t.took().Milliseconds())
}

// misses are what is not reached, in words. How long a plan takes is left to check.
func (t *tally) misses() (list []string) {
	miss := func(format string, args ...any) { list = append(list, fmt.Sprintf(format, args...)) }
	for _, b := range bounds[t.level] {
		if got := t.within(b.rounds, b.mm); got < b.share {
			miss("%.0f %% within %g mm after %d rounds, not %.0f %%", 100*got, b.mm, b.rounds, 100*b.share)
		}
	}
	if got := t.covered(); got < leastCovered {
		miss("%.1f %% of the predictions came true, not %.0f %%", 100*got, 100*leastCovered)
	}
	return list
}

// check prints what is not reached, and says whether all is.
func (t *tally) check(w io.Writer) bool {
	list := t.misses()
	if got := t.took(); got > slowestPlan {
		list = append(list, fmt.Sprintf("a plan takes %v, not %v", got, slowestPlan))
	}
	for _, text := range list {
		fmt.Fprintf(w, "not reached, %s: %s\n", t.level, text)
	}
	return len(list) == 0
}
