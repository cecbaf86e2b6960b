package rehearsal

import (
	"math"

	"burngauge.dev/burngauge/pkg/machine"
)

// Faults are what is out on a simulated machine and what its profile does not
// tell. The zero value of every part but Legs, Gain and their like is no fault;
// NoFaults makes one that fits a profile.
type Faults struct {
	Source  BeamFault     `json:"source"`
	Pointer BeamFault     `json:"pointer"` // of the red pointer, against the beam
	Mirrors []MirrorFault `json:"mirrors"`
	// Legs are the true lengths over the profile's: source to first mirror, from
	// mirror to mirror, last mirror to target. Travels stretch with the legs that they change.
	Legs    []float64 `json:"legs"`
	TwistMM float64   `json:"twist_mm"` // how far the head lies too high at the station of the largest x times y; elsewhere in proportion
}

// BeamFault is how a beam leaves its source: aim about the two axes across it,
// place along them (Across of package optics).
type BeamFault struct {
	AimDeg  [2]float64 `json:"aim_deg"`
	ShiftMM [2]float64 `json:"shift_mm"`
}

// MirrorFault is one mount, as seen from behind.
type MirrorFault struct {
	TiltDeg       [2]float64 `json:"tilt_deg"`       // about its right, about its up
	ShiftMM       [3]float64 `json:"shift_mm"`       // along right, up and normal
	Gain          [3]float64 `json:"gain"`           // of screws A, B, C: true over nominal pitch
	BacklashTurns [3]float64 `json:"backlash_turns"` // lost when the screw turns back
	Lean          [3]float64 `json:"lean"`           // where in its backlash the screw rests at the start: 0, it was last turned anticlockwise, to 1, clockwise
}

// NoFaults is a machine exactly as its profile says.
func NoFaults(p machine.Profile) Faults {
	f := Faults{Mirrors: make([]MirrorFault, len(p.Mirrors)), Legs: make([]float64, len(p.Mirrors)+1)}
	for i := range f.Legs {
		f.Legs[i] = 1
	}
	for i := range f.Mirrors {
		f.Mirrors[i].Gain = [3]float64{1, 1, 1}
	}
	return f
}

// drawFaults draws a machine out of line.
func drawFaults(d Dice, p machine.Profile, r ranges) Faults {
	f := NoFaults(p)
	f.Source = drawBeam(d, r.sourceAimDeg, r.sourceShiftMM)
	f.Pointer = drawBeam(d, r.pointerAimDeg, r.pointerShiftMM)
	for i := range f.Mirrors {
		f.Mirrors[i] = drawMirror(d, r)
	}
	for i := range f.Legs {
		f.Legs[i] = 1 + within(d, r.lengthsPercent/100)
	}
	f.TwistMM = d.Sign() * d.Between(0.5, 1) * r.twistMM
	return f
}

func drawBeam(d Dice, aimDeg, shiftMM float64) (b BeamFault) {
	for i := range 2 {
		b.AimDeg[i], b.ShiftMM[i] = within(d, aimDeg), within(d, shiftMM)
	}
	return b
}

func drawMirror(d Dice, r ranges) (m MirrorFault) {
	for i := range m.TiltDeg {
		m.TiltDeg[i] = within(d, r.mirrorTiltDeg)
	}
	for i := range 3 {
		m.ShiftMM[i] = within(d, r.mirrorShiftMM)
		m.Gain[i] = 1 + within(d, r.gainsPercent/100)
		m.BacklashTurns[i] = d.Between(0.5, 1) * r.backlashTurns
		m.Lean[i] = math.Round(d.Float64())
	}
	return m
}

// within draws evenly from -most to most.
func within(d Dice, most float64) float64 { return d.Between(-most, most) }
