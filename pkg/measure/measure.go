// Package measure takes one photo to one measurement for each mark asked for.
package measure

import (
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/target"
)

// Marks that can be asked for.
const (
	Burn    = "burn"
	Pointer = "pointer"
	Both    = "both"
)

// Options say what to measure. The zero value is not useful: start from
// DefaultOptions.
type Options struct {
	Target    target.Spec
	Mark      string  // Burn, Pointer or Both
	LimitMM   float64 // 0: the inner ring's radius
	RollPhoto bool    // the photo's top is the target's top: measure without an index mark
}

// DefaultOptions measures the burn on the default target against its inner ring.
func DefaultOptions() Options { panic("todo") }

// Result is what came of one photo.
type Result struct {
	Measurements []report.Measurement // one for each mark asked for, also when refused or unreadable
	Photo        *photo.Photo         // nil when unreadable
	Outlines     [][][2]float64       // mark outline of each measurement, px in the upright photo; nil entry when refused
	// ToPixel maps a place on the target (right, up, mm) to the upright photo's px; nil without a target.
	ToPixel func(right, up float64) (x, y float64)
}

// File measures the photo at path. It never fails: what cannot be read or
// measured is said in each measurement's status and refusal.
func File(path string, opt Options) Result { panic("todo") }
