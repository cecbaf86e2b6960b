package invent

import (
	"math"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/studio"
)

// tapeKinds are tapes as sold: luminance, tint and crepe.
var tapeKinds = []studio.Tape{
	{Colour: studio.RGB{R: 0.72, G: 0.60, B: 0.40}, Crepe: 0.06, CrepeMM: 0.35, Fibre: 0.04}, // cream crepe
	{Colour: studio.RGB{R: 0.55, G: 0.40, B: 0.22}, Crepe: 0.05, CrepeMM: 0.45, Fibre: 0.05}, // tan crepe
	{Colour: studio.RGB{R: 0.16, G: 0.30, B: 0.55}, Crepe: 0.05, CrepeMM: 0.40, Fibre: 0.04}, // blue
	{Colour: studio.RGB{R: 0.28, G: 0.48, B: 0.22}, Crepe: 0.04, CrepeMM: 0.40, Fibre: 0.03}, // green
	{Colour: studio.RGB{R: 0.75, G: 0.74, B: 0.70}, Crepe: 0.02, CrepeMM: 0.60, Fibre: 0.03}, // white paper
	{Colour: studio.RGB{R: 0.70, G: 0.52, B: 0.14}, Crepe: 0.04, CrepeMM: 0.50, Fibre: 0.03}, // yellow
	{Colour: studio.RGB{R: 0.62, G: 0.34, B: 0.30}, Crepe: 0.03, CrepeMM: 0.50, Fibre: 0.03}, // pink
	{Colour: studio.RGB{R: 0.66, G: 0.62, B: 0.54}, Crepe: 0.00, CrepeMM: 1, Fibre: 0.015},   // matt film
}

// Tape draws a strip over the target's middle that covers the place (right, up)
// with clear mm round it, and lets through of what is below show.
func (d Draws) Tape(right, up, clear, through float64) studio.Tape {
	t := chance.Pick(d.Dice, tapeKinds...)
	t.Crepe *= d.Between(0.5, 1.6)
	t.Fibre *= d.Between(0.5, 1.6)
	t.CrepeMM *= d.Between(0.7, 1.5)
	t.Colour = t.Colour.Times(d.Between(0.8, 1.12))
	t.Through, t.EdgeDark, t.Seed = through, d.Between(0.03, 0.3), d.Uint32()
	t.Deg = d.Angle()
	t.WidthMM = chance.Pick(d.Dice, 12.0, 15, 19, 25, 38, 50)
	t.WidthMM = max(t.WidthMM, 2*clear+2)
	s, c := math.Sincos(t.Deg * math.Pi / 180)
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
func (d Draws) wrinkles(t *studio.Tape, right, up, clear float64) {
	for range d.IntN(4) {
		w := studio.Wrinkle{Deg: d.Angle(), WidthMM: d.Between(0.1, 0.5), LengthMM: d.Between(4, 16), Depth: d.Between(0.04, 0.22)}
		x, y := d.Disc(clear+2, 16)
		w.Right, w.Up = right+x, up+y
		w.Deg = math.Atan2(y, x)*180/math.Pi + 90 + d.Between(-30, 30) // along, not towards, the mark
		t.Wrinkles = append(t.Wrinkles, w)
	}
}
