package target

import (
	"fmt"
	"math"
	"unicode"
	"unicode/utf8"
)

// Bounds of a spec. They keep mistakes out (inches, micrometres, a slipped
// decimal point), not unusual targets.
const (
	maxRings     = 32   // more cannot be distinguished by the ratios of their diameters
	maxRingMM    = 1000 // no bed's head holds a target wider than this
	maxTapeMM    = 5    // masking tape is 0.1 to 0.2 mm; a stack of it stays below
	maxNameRunes = 40   // fits on the sheet and in the table
)

// fault is a value that a spec must not have.
type fault struct{ key, text string }

// Check returns a *SpecError when the spec is one that Parse would refuse. It
// is for specs that come from elsewhere than a file, such as a report.
func (s Spec) Check() error {
	if f := s.fault(); f != nil {
		return &SpecError{File: s.Name, Key: f.key, Text: f.text}
	}
	return nil
}

// fault returns the first one, in the order of the keys, or nil. Comparisons
// are written so that NaN fails them.
func (s Spec) fault() *fault {
	for _, check := range []func() *fault{s.nameFault, s.ringsFault, s.lineFault, s.crossFault, s.rimFault, s.indexFault, s.tapeFault} {
		if f := check(); f != nil {
			return f
		}
	}
	return nil
}

func (s Spec) nameFault() *fault {
	if s.Name == "" {
		return &fault{"name", "missing: give the target a short name"}
	}
	if utf8.RuneCountInString(s.Name) > maxNameRunes {
		return &fault{"name", fmt.Sprintf("longer than %d characters: shorten it", maxNameRunes)}
	}
	for _, r := range s.Name {
		if !unicode.IsPrint(r) {
			return &fault{"name", "holds a character that cannot be printed: take it out"}
		}
	}
	return nil
}

func (s Spec) ringsFault() *fault {
	switch n := len(s.RingsMM); {
	case n == 0:
		return &fault{"rings_mm", "missing: list the diameters of the rings, smallest first, like [4, 8, 12, 16]"}
	case n > maxRings:
		return &fault{"rings_mm", fmt.Sprintf("%d rings: list at most %d", n, maxRings)}
	}
	previous := 0.0
	for i, diameter := range s.RingsMM {
		key := fmt.Sprintf("rings_mm[%d]", i)
		if !(diameter > 0 && diameter <= maxRingMM) {
			return &fault{key, fmt.Sprintf("%g is not a diameter in mm above 0 and up to %d: measure the ring again", diameter, maxRingMM)}
		}
		if diameter <= previous {
			return &fault{key, fmt.Sprintf("%g does not rise above %g: list the diameters smallest first, each once", diameter, previous)}
		}
		previous = diameter
	}
	if !(s.RingsUMM > 0 && s.RingsUMM < s.InnerRadius()) {
		return &fault{"rings_u_mm", fmt.Sprintf("%g is not a standard uncertainty above 0 and below the inner ring's radius: give the one of each diameter in mm, like 0.02", s.RingsUMM)}
	}
	return nil
}

func (s Spec) lineFault() *fault {
	if !(s.LineMM > 0) {
		return &fault{"line_mm", fmt.Sprintf("%g is not a width above 0: give the width of the rings' line in mm", s.LineMM)}
	}
	if gap := s.smallestGap(); !(s.LineMM < gap) {
		return &fault{"line_mm", fmt.Sprintf("%g is as wide as the gap of %.3g mm between rings or wider: measure line and rings again", s.LineMM, gap)}
	}
	return nil
}

// smallestGap is the least distance in mm from the middle of one ring's line to
// the next ring's, the inner ring's own diameter included.
func (s Spec) smallestGap() float64 {
	gap := s.RingsMM[0]
	for i := 1; i < len(s.RingsMM); i++ {
		gap = math.Min(gap, (s.RingsMM[i]-s.RingsMM[i-1])/2)
	}
	return gap
}

func (s Spec) crossFault() *fault {
	if !(s.CrossMM >= 0 && s.CrossMM <= s.OuterRadius()) {
		return &fault{"cross_mm", fmt.Sprintf("%g is not a half length from 0 (no cross) to the outer ring's radius, %g mm", s.CrossMM, s.OuterRadius())}
	}
	return nil
}

func (s Spec) rimFault() *fault {
	if s.RimMM == 0 {
		return nil
	}
	least := 2*s.OuterRadius() + s.LineMM
	if !(s.RimMM > least && s.RimMM <= maxRingMM) {
		return &fault{"rim_mm", fmt.Sprintf("%g is not a diameter beyond the outer ring's line (%g mm) and up to %d: measure the round edge, or write 0 when it is not known", s.RimMM, least, maxRingMM)}
	}
	return nil
}

func (s Spec) indexFault() *fault {
	bar := s.Index
	if !(bar.FromMM > 0 && bar.FromMM >= s.LineMM/2) {
		return &fault{"index.from_mm", fmt.Sprintf("%g is not a distance beyond the outer ring's line (%g mm): give where the bar starts, counted from the outer ring", bar.FromMM, s.LineMM/2)}
	}
	if !(bar.ToMM > bar.FromMM && bar.ToMM <= maxRingMM) {
		return &fault{"index.to_mm", fmt.Sprintf("%g is not beyond from_mm (%g): give where the bar ends, counted from the outer ring", bar.ToMM, bar.FromMM)}
	}
	if !(bar.WidthMM > 0 && bar.WidthMM < 2*s.OuterRadius()) {
		return &fault{"index.width_mm", fmt.Sprintf("%g is not a width above 0 and below the outer ring's diameter: give the bar's width in mm", bar.WidthMM)}
	}
	reach := math.Hypot(s.OuterRadius()+bar.ToMM, bar.WidthMM/2)
	if s.RimMM > 0 && reach > s.RimMM/2 {
		return &fault{"index.to_mm", fmt.Sprintf("the bar's corners lie %.4g mm from the centre, outside the rim's radius of %g mm: measure bar and rim again", reach, s.RimMM/2)}
	}
	return nil
}

func (s Spec) tapeFault() *fault {
	if !(s.TapeMM >= 0 && s.TapeMM <= maxTapeMM) {
		return &fault{"tape_mm", fmt.Sprintf("%g is not a height from 0 to %d: give how far the tape's surface lies above the rings in mm", s.TapeMM, maxTapeMM)}
	}
	if !(s.TapeUMM >= 0 && s.TapeUMM <= maxTapeMM) {
		return &fault{"tape_u_mm", fmt.Sprintf("%g is not a standard uncertainty from 0 to %d: give how well tape_mm is known, in mm, like 0.04", s.TapeUMM, maxTapeMM)}
	}
	return nil
}
