package invent

import (
	"math"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/studio"
)

// Writing draws a label whose letters stay near the place given.
func (d Draws) Writing(right, up, size float64, colour studio.RGB) studio.Writing {
	text := chance.Pick(d.Dice, "R1", "FL 2", "MID", "RR-3", "14/09", "F-R", "NO 7", "REAR L", "A4", "26-3", "RUN 5", "C")
	return studio.Writing{Text: text, Right: right, Up: up, Deg: d.Between(-40, 40), SizeMM: size,
		PenMM: size * d.Between(0.09, 0.16), Colour: colour, Wobble: d.Between(0.1, 0.7), Slant: d.Between(-0.1, 0.3), Seed: d.Uint32()}
}

// Burn draws an ordinary burn of about a diameter in mm: roundish, soft-edged, almost black.
func (d Draws) Burn(right, up, diameter float64) studio.Burn {
	ratio := d.Between(0.82, 1)
	a := diameter / 2 / math.Sqrt(ratio)
	l := studio.Lobe{Right: right, Up: up, MajorMM: a, MinorMM: a * ratio, AxisDeg: d.Angle(), EdgeMM: diameter * d.Between(0.06, 0.28)}
	for k := range l.Waves {
		l.Waves[k] = d.Between(0, 0.02)
		l.WavePhases[k] = d.Between(0, 2*math.Pi)
	}
	b := studio.Burn{Lobes: []studio.Lobe{l}, Strength: d.Between(0.92, 0.99), Seed: d.Uint32()}
	if d.Chance(0.5) {
		b.HaloMM, b.Halo = diameter*d.Between(0.04, 0.1), d.Between(0.08, 0.25)
		b.HaloTo, b.HaloBias = d.Angle(), d.Between(0, 0.3)
	}
	return b
}
