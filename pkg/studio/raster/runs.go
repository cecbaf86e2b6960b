package raster

import (
	"runtime"
	"sync"
)

// stretch is the rows from..to-1.
type stretch struct{ from, to int }

// Rows are handed out a few at a time; a rest shorter than leastShare is not divided,
// since the rows above its lower half would have to be made twice.
const (
	HandRows   = 16
	leastShare = 64
)

// runs shares a picture's rows among the processors. Each goes down a run of its own, so
// that what it keeps of the rows before serves the next; one that has done its own takes
// over the lower half of the longest rest.
type runs struct {
	mu   sync.Mutex
	rest []stretch // of each processor
}

// InRuns calls work once on each processor. work asks for rows until there are none
// left. What it makes of a row must not depend on which rows it is handed.
func InRuns(height int, work func(next func() (from, to int, ok bool))) {
	n := min(runtime.GOMAXPROCS(0), max(height/leastShare, 1))
	r := &runs{}
	for i := range n {
		r.rest = append(r.rest, stretch{height * i / n, height * (i + 1) / n})
	}
	var all sync.WaitGroup
	for i := range n {
		all.Go(func() { work(func() (from, to int, ok bool) { return r.next(i) }) })
	}
	all.Wait()
}

// next hands out the next rows to a processor, false when all are handed out.
func (r *runs) next(i int) (from, to int, ok bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.rest[i].from == r.rest[i].to && !r.takeOver(i) {
		return 0, 0, false
	}
	mine := &r.rest[i]
	from, to = mine.from, min(mine.from+HandRows, mine.to)
	mine.from = to
	return from, to, true
}

// takeOver gives a processor half of the longest rest.
func (r *runs) takeOver(i int) bool {
	longest := 0
	for j, s := range r.rest {
		if s.to-s.from > r.rest[longest].to-r.rest[longest].from {
			longest = j
		}
	}
	s := &r.rest[longest]
	if s.to-s.from < leastShare {
		return false
	}
	middle := (s.from + s.to) / 2
	r.rest[i] = stretch{middle, s.to}
	s.to = middle
	return true
}
