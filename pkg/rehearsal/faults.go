package rehearsal

import (
	"math"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/target"
)

// Faults are what is out of line on a simulated machine and what its profile does not
// say. The zero value of every part but Legs, Gain and their like is no fault;
// NoFaults makes one that fits a profile.
type Faults struct {
	Source  BeamFault     `json:"source"`
	Pointer BeamFault     `json:"pointer"` // of the red pointer, against the beam
	Mirrors []MirrorFault `json:"mirrors"`
	// Legs are the true lengths over the profile's: source to first mirror, from
	// mirror to mirror, last mirror to target. Travels stretch with the legs that they change.
	Legs    []float64 `json:"legs"`
	TwistMM float64   `json:"twist_mm"` // how far the head lies too high at the station of the largest x times y; elsewhere in proportion
	// PointerScrews are those of the red pointer's mount, nil without one in the profile.
	PointerScrews *ScrewFaults `json:"pointer_screws,omitempty"`
	// TapeMM is the height in mm of ordinary masking tape on this bench's target. 0:
	// none was drawn, as for benches made before they had one.
	TapeMM float64 `json:"tape_mm,omitempty"`
}

// BeamFault is how a beam leaves its source: aim about the two axes across it,
// place along them (Across of package optics).
type BeamFault struct {
	AimDeg  [2]float64 `json:"aim_deg"`
	ShiftMM [2]float64 `json:"shift_mm"`
}

// MirrorFault is one mount, as seen from behind.
type MirrorFault struct {
	TiltDeg [2]float64 `json:"tilt_deg"` // about its right, about its up
	ShiftMM [3]float64 `json:"shift_mm"` // along right, up and normal
	ScrewFaults
}

// ScrewFaults are those of a mount's screws A, B, C.
type ScrewFaults struct {
	Gain          [3]float64 `json:"gain"`           // true over nominal pitch
	BacklashTurns [3]float64 `json:"backlash_turns"` // lost when the screw turns back
	Lean          [3]float64 `json:"lean"`           // where in its backlash the screw rests at the start: 0, it was last turned anticlockwise, to 1, clockwise
}

// NoFaults is a machine exactly as its profile says.
func NoFaults(p machine.Profile) Faults {
	f := Faults{Mirrors: make([]MirrorFault, len(p.Mirrors)), Legs: make([]float64, len(p.Mirrors)+1)}
	for i := range f.Legs {
		f.Legs[i] = 1
	}
	for i, m := range p.Mirrors {
		f.Mirrors[i].ScrewFaults = asLearnt(m.Screws)
	}
	if p.Pointer != nil {
		screws := asLearnt(p.Pointer.Screws)
		f.PointerScrews = &screws
	}
	return f
}

// asLearnt are screws that pull just as the profile says that they do.
func asLearnt(s machine.Screws) (f ScrewFaults) {
	for i, point := range s.Points {
		f.Gain[i] = point.Pull()
	}
	return f
}

// upperHalf is the share of their range from which twist and backlash are drawn: a level
// that has them always shows them.
var upperHalf = chance.Range{0.5, 1}

// drawFaults draws a machine out of line. The order of the draws is part of what a seed
// means: a fault that is added is drawn last.
func drawFaults(d chance.Dice, p machine.Profile, r ranges) Faults {
	f := NoFaults(p)
	f.Source = drawBeam(d, r.sourceAimDeg, r.sourceShiftMM)
	f.Pointer = drawBeam(d, r.pointerAimDeg, r.pointerShiftMM)
	for i, m := range p.Mirrors {
		f.Mirrors[i] = drawMirror(d, m.Screws, r)
	}
	for i := range f.Legs {
		f.Legs[i] = 1 + within(d, r.lengthsPercent/100)
	}
	f.TwistMM = d.Sign() * d.In(upperHalf) * r.twistMM
	return f
}

// drawBeam draws how a beam leaves its source.
func drawBeam(d chance.Dice, aimDeg, shiftMM float64) (b BeamFault) {
	for i := range 2 {
		b.AimDeg[i], b.ShiftMM[i] = within(d, aimDeg), within(d, shiftMM)
	}
	return b
}

// drawMirror draws how a mirror sits and what its screws are like.
func drawMirror(d chance.Dice, screws machine.Screws, r ranges) (m MirrorFault) {
	for i := range m.TiltDeg {
		m.TiltDeg[i] = within(d, r.mirrorTiltDeg)
	}
	for i := range 3 {
		m.ShiftMM[i] = within(d, r.mirrorShiftMM)
		m.draw(d, i, screws, r)
	}
	return m
}

// draw draws one screw. What was learnt of it holds, but for what the level adds.
func (f *ScrewFaults) draw(d chance.Dice, screw int, of machine.Screws, r ranges) {
	f.Gain[screw] = of.Points[screw].Pull() * (1 + within(d, r.gainsPercent/100))
	f.BacklashTurns[screw] = d.In(upperHalf) * r.backlashTurns
	f.Lean[screw] = math.Round(d.Float64())
}

// drawPointerScrews draws those of the red pointer's mount, nil without one. Their
// stream is their own: the beam is the same with the mount in the profile and without.
func drawPointerScrews(p machine.Profile, seed uint64, r ranges) *ScrewFaults {
	if p.Pointer == nil {
		return nil
	}
	d := chance.New(seed, chance.Stream("pointer's screws"))
	f := new(ScrewFaults)
	for i := range 3 {
		f.draw(d, i, p.Pointer.Screws, r)
	}
	return f
}

// drawTape draws the height of the bench's tape, mm, above 0: from the normal
// distribution that a spec which leaves the tape out is taken to mean. Its stream is its own, so that all
// else about a seed stays what it was.
func drawTape(seed uint64) float64 {
	d := chance.New(seed, chance.Stream("tape"))
	for {
		if mm := target.DefaultTapeMM + target.DefaultTapeUMM*d.NormFloat64(); mm > 0 {
			return mm
		}
	}
}

// within draws evenly from -most to most: a standard deviation of most/√3.
func within(d chance.Dice, most float64) float64 { return d.Between(-most, most) }
