package rehearsal

import (
	"math"

	"burngauge.dev/burngauge/pkg/target"
)

// Look draws paper and ink. Dark paper with light lines needs tape over it: a burn on it would not show.
func (d Dice) Look(spec target.Spec, dark bool) Look {
	k := Look{Mottle: d.Between(0, 0.35), Grain: d.Between(0.005, 0.05), GrainMM: d.Between(0.4, 2), Soft: spec.LineMM >= softLine}
	if dark {
		k.Paper = d.Tint(d.Between(0.02, 0.09), d.Between(0, 0.3))
		k.Ink = d.Tint(d.Between(0.45, 0.8), d.Between(0, 0.2))
		return k
	}
	k.Paper = d.Tint(d.Between(0.42, 0.85), d.Between(0, 0.18))
	k.Ink = d.Tint(d.Between(0.02, 0.12), d.Between(0, 0.5))
	return k
}

// softLine: a line this wide, mm, is a moulded or sprayed one without sharp edges.
const softLine = 1.0

// Plate draws the thing that carries the rings. A known rim gives a disc about
// the rings; otherwise a disc may sit a little beside their centre.
func (d Dice) Plate(spec target.Spec) Plate {
	need := spec.OuterRadius() + spec.Index.ToMM
	p := Plate{ThickMM: d.Between(0.8, 6), BevelMM: d.Between(0, 0.7), Bevel: d.Between(-0.3, 0.2)}
	if spec.RimMM > 0 {
		p.Shape, p.WidthMM = PlateDisc, spec.RimMM
		return p
	}
	switch d.IntN(5) {
	case 0, 1:
		p.Shape, p.WidthMM = PlateDisc, 2*(need+d.Between(0.8, 7))
		p.Right, p.Up = d.Disc(0, 0.5)
	case 2, 3:
		p.Shape = PlateBox
		p.WidthMM, p.HeightMM = 2*(need+d.Between(0.8, 9)), 2*(need+d.Between(0.8, 9))
		p.CornerMM, p.Deg = d.Between(0.2, 5), d.Between(-3, 3)
		p.Right, p.Up = d.Disc(0, 0.6)
	default:
		p.Shape, p.ThickMM = PlateSheet, 0
	}
	return p
}

// tapeKinds are tapes as sold: luminance, tint and crepe.
var tapeKinds = []Tape{
	{Colour: RGB{0.72, 0.60, 0.40}, Crepe: 0.06, CrepeMM: 0.35, Fibre: 0.04}, // cream crepe
	{Colour: RGB{0.55, 0.40, 0.22}, Crepe: 0.05, CrepeMM: 0.45, Fibre: 0.05}, // tan crepe
	{Colour: RGB{0.16, 0.30, 0.55}, Crepe: 0.05, CrepeMM: 0.40, Fibre: 0.04}, // blue
	{Colour: RGB{0.28, 0.48, 0.22}, Crepe: 0.04, CrepeMM: 0.40, Fibre: 0.03}, // green
	{Colour: RGB{0.75, 0.74, 0.70}, Crepe: 0.02, CrepeMM: 0.60, Fibre: 0.03}, // white paper
	{Colour: RGB{0.70, 0.52, 0.14}, Crepe: 0.04, CrepeMM: 0.50, Fibre: 0.03}, // yellow
	{Colour: RGB{0.62, 0.34, 0.30}, Crepe: 0.03, CrepeMM: 0.50, Fibre: 0.03}, // pink
	{Colour: RGB{0.66, 0.62, 0.54}, Crepe: 0.00, CrepeMM: 1, Fibre: 0.015},   // matt film
}

// Tape draws a strip over the target's middle that covers the place (right, up)
// with clear mm round it, and lets through of what is below show.
func (d Dice) Tape(right, up, clear, through float64) Tape {
	t := pick(d, tapeKinds...)
	t.Crepe *= d.Between(0.5, 1.6)
	t.Fibre *= d.Between(0.5, 1.6)
	t.CrepeMM *= d.Between(0.7, 1.5)
	t.Colour = t.Colour.Times(d.Between(0.8, 1.12))
	t.Through, t.EdgeDark, t.Seed = through, d.Between(0.03, 0.3), d.Uint32()
	t.Deg = d.Angle()
	t.WidthMM = pick(d, 12.0, 15, 19, 25, 38, 50)
	t.WidthMM = max(t.WidthMM, 2*clear+2)
	c, s := cosSin(t.Deg)
	room := t.WidthMM/2 - clear
	off := d.Between(-room, room) // of the mark from the tape's middle line
	t.Right, t.Up = right+s*off, up-c*off
	if d.Chance(0.3) {
		t.LengthMM, t.TornMM = 2*clear+d.Between(14, 40), d.Between(0.2, 0.8)
	}
	d.wrinkles(&t, right, up, clear)
	return t
}

// wrinkles draws up to three folds that stay clear of the mark.
func (d Dice) wrinkles(t *Tape, right, up, clear float64) {
	for range d.IntN(4) {
		w := Wrinkle{Deg: d.Angle(), WidthMM: d.Between(0.1, 0.5), LengthMM: d.Between(4, 16), Depth: d.Between(0.04, 0.22)}
		x, y := d.Disc(clear+2, 16)
		w.Right, w.Up = right+x, up+y
		w.Deg = math.Atan2(y, x)*180/math.Pi + 90 + d.Between(-30, 30) // along, not towards, the mark
		t.Wrinkles = append(t.Wrinkles, w)
	}
}

// Writing draws a label whose letters stay near the place given.
func (d Dice) Writing(right, up, size float64, colour RGB) Writing {
	text := pick(d, "R1", "FL 2", "MID", "RR-3", "14/09", "F-R", "NO 7", "REAR L", "A4", "26-3", "RUN 5", "C")
	return Writing{Text: text, Right: right, Up: up, Deg: d.Between(-40, 40), SizeMM: size,
		PenMM: size * d.Between(0.09, 0.16), Colour: colour, Wobble: d.Between(0.1, 0.7), Slant: d.Between(-0.1, 0.3), Seed: d.Uint32()}
}

// Burn draws an ordinary burn of about a diameter in mm: roundish, soft-edged, almost black.
func (d Dice) Burn(right, up, diameter float64) Burn {
	ratio := d.Between(0.82, 1)
	a := diameter / 2 / math.Sqrt(ratio)
	l := Lobe{Right: right, Up: up, MajorMM: a, MinorMM: a * ratio, AxisDeg: d.Angle(), EdgeMM: diameter * d.Between(0.06, 0.28)}
	for k := range l.Waves {
		l.Waves[k] = d.Between(0, 0.02)
		l.WavePhases[k] = d.Between(0, 2*math.Pi)
	}
	b := Burn{Lobes: []Lobe{l}, Strength: d.Between(0.92, 0.99), Seed: d.Uint32()}
	if d.Chance(0.5) {
		b.HaloMM, b.Halo = diameter*d.Between(0.04, 0.1), d.Between(0.08, 0.25)
		b.HaloTo, b.HaloBias = d.Angle(), d.Between(0, 0.3)
	}
	return b
}

// Pointer draws an aiming dot.
func (d Dice) Pointer(right, up float64) Pointer {
	s := d.Between(0.3, 0.75)
	return Pointer{Right: right, Up: up, LongMM: s, ShortMM: s * d.Between(0.75, 1), Deg: d.Angle(),
		Strength: d.Between(1.5, 14), Glow: d.Between(0.01, 0.06), Speckle: d.Between(0.1, 0.6),
		SpeckleMM: d.Between(0.05, 0.16), Seed: d.Uint32()}
}
