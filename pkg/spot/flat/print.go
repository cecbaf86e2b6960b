package flat

import (
	"math"

	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/ring"
)

// Print is what is printed on the target, as it appears on the tape's surface:
// the places where a cell's light is not only that of tape and mark, which are
// ring lines, cross and index bar.
type Print struct {
	fit    *ring.Fit
	set    Settings
	log    *decision.Log
	dx, dy float64 // where the printed plane's origin appears on the tape's surface, mm
	blur   float64 // mm
	soft   float64 // how much wider than its nominal width a line is seen
}

// NewPrint is the print of the fit's target. The tape lies TapeMM above the
// print: seen at an angle, the print's origin appears beside the tape's.
func NewPrint(f *ring.Fit, set Settings) Print {
	origin := f.Pixel(0, 0)
	dx, dy := f.At(origin, f.Spec.TapeMM)
	return Print{fit: f, set: set, dx: dx, dy: dy, soft: f.Softness(), blur: set.BlurPX * float64(f.Raster().Factor) / f.PxPerMM()}
}

// Recording is the print with its decisions recorded in a log.
func (p Print) Recording(log *decision.Log) Print {
	p.log = log
	return p
}

// BlurMM is how far the photo's blur spreads an edge, mm.
func (p Print) BlurMM() float64 { return p.blur }

// RingHalfMM is how far from its middle a ring's line reaches with its blur, mm.
func (p Print) RingHalfMM() float64 { return p.fit.Spec.LineMM*p.soft/2 + p.blur }

// armHalfMM is how far from its middle an arm of the cross reaches, mm.
func (p Print) armHalfMM() float64 { return p.fit.Spec.LineMM/2 + p.blur }

// ringAt is the ring whose line, with its blur, covers the distance r from the
// print's centre; -1 when none does.
func (p Print) ringAt(r float64) int {
	half := p.RingHalfMM()
	for k, d := range p.fit.Spec.RingsMM {
		if math.Abs(r-d/2) < half {
			return k
		}
	}
	return -1
}

// OnBar says whether a place lies on the index bar, with its margin.
func (p Print) OnBar(x, y float64) bool {
	x, y = x-p.dx, y-p.dy
	s := p.fit.Spec
	margin := p.blur + p.set.BarMarginMM
	from, to := s.OuterRadius()+s.Index.FromMM, s.OuterRadius()+s.Index.ToMM
	return math.Abs(x) < s.Index.WidthMM/2+margin && y > from-margin && y < to+margin
}

// arm is which arm of the cross a place lies on.
type arm int

// The arms; both where they meet.
const (
	noArm    arm = 0
	alongX   arm = 1
	alongY   arm = 2
	bothArms     = alongX | alongY
)

// armAt is the arm of the cross that covers a place on the printed plane.
func (p Print) armAt(x, y float64) arm {
	s := p.fit.Spec
	if s.CrossMM == 0 {
		return noArm
	}
	half, length := p.armHalfMM(), s.CrossMM+p.blur
	on := noArm
	if math.Abs(y) < half && math.Abs(x) < length {
		on |= alongX
	}
	if math.Abs(x) < half && math.Abs(y) < length {
		on |= alongY
	}
	return on
}

// Line names a printed line: a ring by its number, from the inside, or Cross.
type Line int

// Cross is the line of the cross's arms.
const Cross Line = -1

// LineAt is the line that covers a place on the tape's surface, and the place's
// distance from the line's middle, mm; false where there is none.
func (p Print) LineAt(x, y float64) (Line, float64, bool) {
	x, y = x-p.dx, y-p.dy
	r := math.Hypot(x, y)
	if k := p.ringAt(r); k >= 0 {
		return Line(k), r - p.fit.Spec.RingsMM[k]/2, true
	}
	switch p.armAt(x, y) {
	case alongX:
		return Cross, y, math.Abs(x) < p.fit.Spec.CrossMM
	case alongY:
		return Cross, x, math.Abs(y) < p.fit.Spec.CrossMM
	case bothArms:
		return Cross, math.Copysign(min(math.Abs(x), math.Abs(y)), x), true
	}
	return 0, 0, false
}

// halfMM is how far from its middle a line is looked at, mm.
func (p Print) halfMM(line Line) float64 {
	if line == Cross {
		return p.armHalfMM()
	}
	return p.RingHalfMM()
}
