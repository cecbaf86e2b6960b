// Package decision records what a limit was held against and what followed, so
// that a refusal can be traced to the one line that decided it.
//
// A decision compares one value with one limit. Its name is the package and the
// field of that package's settings struct, as in locate.MostGlare: whoever reads
// the name finds the line with one search. Recording is off unless a Log is
// given; every method of a nil *Log compares and records nothing, and what it
// gives back is the same.
package decision

import (
	"fmt"
	"slices"
	"sync"

	"burngauge.dev/burngauge/pkg/conic"
)

// Decision is one value held against one limit.
type Decision struct {
	Name  string  // package and field of its settings, locate.MostGlare
	About string  // what was judged, "frame 2"; "" for the photo as a whole
	At    *Place  // where that lies on the upright photo, nil when it has no place
	Value float64 // NaN when there was nothing to measure; NaN is neither above nor below
	Test  Test
	Limit float64
	Holds bool   // whether "value test limit" is true
	Then  string // what follows when it holds, "refused: glare"
	// Of is how many things were compared with this limit at this point of the
	// way, 1 for a decision of its own. Above 1 the entry stands for all of them:
	// Value is then the one nearest to the limit.
	Of      int
	Holding int // of them, those for which it holds
}

// Place is a place on the upright photo, px.
type Place = conic.Point

// Test is how a value is compared with its limit.
type Test string

// The two tests.
const (
	Above Test = ">"
	Below Test = "<"
)

// Log collects decisions in the order in which they fell. It may be used by
// several goroutines, but what is to come out in the same order each time must
// be recorded by one.
type Log struct {
	sink  *sink
	about string
	at    *Place
}

// sink is what a log and those derived from it share.
type sink struct {
	mutex sync.Mutex
	list  []Decision
}

// NewLog is an empty log.
func NewLog() *Log { return &Log{sink: &sink{}} }

// Decisions lists what was recorded; nil for a nil log.
func (l *Log) Decisions() []Decision {
	if l == nil {
		return nil
	}
	l.sink.mutex.Lock()
	defer l.sink.mutex.Unlock()
	return slices.Clone(l.sink.list)
}

// About is the log with a subject for all that is recorded by it: what is
// judged, and where on the upright photo it lies (px).
func (l *Log) About(at Place, format string, args ...any) *Log {
	if l == nil {
		return nil
	}
	return &Log{sink: l.sink, about: fmt.Sprintf(format, args...), at: &at}
}

// Above says whether value > limit, and records that it was asked; then is what
// follows when it is.
func (l *Log) Above(name string, value, limit float64, then string) bool {
	l.record(name, value, Above, limit, then, value > limit)
	return value > limit
}

// Below says whether value < limit, and records that it was asked; then is what
// follows when it is.
func (l *Log) Below(name string, value, limit float64, then string) bool {
	l.record(name, value, Below, limit, then, value < limit)
	return value < limit
}

func (l *Log) record(name string, value float64, test Test, limit float64, then string, holds bool) {
	if l == nil {
		return
	}
	d := Decision{Name: name, About: l.about, At: l.at, Value: value, Test: test, Limit: limit, Holds: holds, Then: then, Of: 1}
	if holds {
		d.Holding = 1
	}
	l.sink.add(d)
}

func (s *sink) add(d Decision) {
	s.mutex.Lock()
	s.list = append(s.list, d)
	s.mutex.Unlock()
}
