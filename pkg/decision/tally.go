package decision

import (
	"math"
	"sync"
)

// Tally compares many things of one kind with one limit, edges or ellipses say,
// and leaves one entry in the log: how many there were, for how many the test
// held, and the value nearest to the limit. It may be used by several goroutines
// at once, and what it records does not depend on their order.
type Tally struct {
	log   *Log
	mutex sync.Mutex
	entry Decision
}

// Tally starts one with the test "value test limit"; nil for a nil log.
// Record must be called when all is compared.
func (l *Log) Tally(name string, test Test, limit float64, then string) *Tally {
	if l == nil {
		return nil
	}
	return &Tally{log: l, entry: Decision{Name: name, About: l.about, At: l.at, Test: test, Limit: limit, Then: then, Value: math.NaN()}}
}

// Above says whether value > limit and counts it. A nil Tally only compares.
func (t *Tally) Above(value, limit float64) bool { return t.count(value, value > limit) }

// Below says whether value < limit and counts it. A nil Tally only compares.
func (t *Tally) Below(value, limit float64) bool { return t.count(value, value < limit) }

func (t *Tally) count(value float64, holds bool) bool {
	if t == nil {
		return holds
	}
	t.mutex.Lock()
	defer t.mutex.Unlock()
	e := &t.entry
	e.Of++
	if holds {
		e.Holding++
	}
	if nearer(value, e.Value, e.Limit) {
		e.Value, e.Holds = value, holds
	}
	return holds
}

// nearer says whether a lies nearer to the limit than b; of two as near the
// lower one, so that the order does not matter.
func nearer(a, b, limit float64) bool {
	switch da, db := math.Abs(a-limit), math.Abs(b-limit); {
	case math.IsNaN(a):
		return false
	case math.IsNaN(b), da < db:
		return true
	default:
		return da == db && a < b
	}
}

// Record adds the entry to the log, unless nothing was compared.
func (t *Tally) Record() {
	if t == nil || t.entry.Of == 0 {
		return
	}
	t.log.sink.add(t.entry)
}
