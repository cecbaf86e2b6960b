package invent

import (
	"math"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/studio"
)

// burns are ordinary ones: roundish, soft-edged, almost black (common practice, no
// source). Lengths are shares of the burn's diameter.
var burns = struct {
	narrow   span    // minor over major half axis
	edge     span    // width over which the darkness falls
	wave     span    // amplitude of each wave round the outline, share of the radius
	strength span    // share of the light that the burn takes away
	scorched float64 // probability of a brown surround
	halo     span    // its scale length
	haloDark span    // its darkness at the outline, 0..1
	haloBias span    // 0: even all round, 1: all on one side
}{narrow: span{0.82, 1}, edge: span{0.06, 0.28}, wave: span{0, 0.02}, strength: span{0.92, 0.99},
	scorched: 0.5, halo: span{0.04, 0.1}, haloDark: span{0.08, 0.25}, haloBias: span{0, 0.3}}

// Burn draws an ordinary burn at a place. Its outline is an ellipse of the area of a
// circle of the diameter, mm: half axes a and ka with π k a² = π (diameter/2)².
func (d Draws) Burn(right, up, diameter float64) studio.Burn {
	ratio := d.In(burns.narrow)
	a := diameter / 2 / math.Sqrt(ratio)
	l := studio.Lobe{Right: right, Up: up, MajorMM: a, MinorMM: a * ratio, AxisDeg: d.Angle(), EdgeMM: diameter * d.In(burns.edge)}
	for k := range l.Waves {
		l.Waves[k] = d.In(burns.wave)
		l.WavePhases[k] = d.Between(0, 2*math.Pi)
	}
	b := studio.Burn{Lobes: []studio.Lobe{l}, Strength: d.In(burns.strength), Seed: d.Uint32()}
	if d.Chance(burns.scorched) {
		b.HaloMM, b.Halo = diameter*d.In(burns.halo), d.In(burns.haloDark)
		b.HaloTo, b.HaloBias = d.Angle(), d.In(burns.haloBias)
	}
	return b
}

// labels are what technicians write beside a mark: place, date, number. Invented.
var labels = []string{"R1", "FL 2", "MID", "RR-3", "14/09", "F-R", "NO 7", "REAR L", "A4", "26-3", "RUN 5", "C"}

// hands are how they write it (common practice, no source).
var hands = struct {
	deg    span // degrees, slope of the line
	pen    span // width of the pen as a share of the letters' height
	wobble span // 0 printed .. 1 shaky, grid units of a letter
	slant  span // shift to the right per unit of height
}{deg: span{-40, 40}, pen: span{0.09, 0.16}, wobble: span{0.1, 0.7}, slant: span{-0.1, 0.3}}

// Writing draws a label that begins at a place, with letters of a size in mm.
func (d Draws) Writing(right, up, size float64, colour studio.RGB) studio.Writing {
	text := chance.Pick(d.Dice, labels...)
	return studio.Writing{Text: text, Right: right, Up: up, Deg: d.In(hands.deg), SizeMM: size,
		PenMM: size * d.In(hands.pen), Colour: colour, Wobble: d.In(hands.wobble), Slant: d.In(hands.slant), Seed: d.Uint32()}
}
