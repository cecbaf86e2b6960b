package invent

import (
	"math"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/studio"
)

// tapeKinds are tapes as sold: reflectance, crepe and cloudiness (chosen by eye).
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

// tapeWidths, mm, are the ones that masking tapes are sold in.
var tapeWidths = []float64{12, 15, 19, 25, 38, 50}

// tapes are how strips of one kind differ and how they are laid (common practice, no
// source).
var tapes = struct {
	crepe, fibre span    // factors on the kind's own
	crepeMM      span    // likewise
	light        span    // factor on its reflectance
	edgeDark     span    // shadow line along its edges, 0..1
	beyond       float64 // mm, how much wider than what it must cover
	torn         float64 // probability of two ends on the plate
	ends         span    // mm, length beyond what it must cover
	tornMM       span    // mm, how ragged the ends are
	widths       []float64
}{
	crepe: span{0.5, 1.6}, fibre: span{0.5, 1.6}, crepeMM: span{0.7, 1.5}, light: span{0.8, 1.12}, edgeDark: span{0.03, 0.3},
	beyond: 2, torn: 0.3, ends: span{14, 40}, tornMM: span{0.2, 0.8}, widths: tapeWidths,
}

// Tape draws a strip over the target's middle that covers the place (right, up)
// with clear mm round it, and lets through of what is below show.
func (d Draws) Tape(right, up, clear, through float64) studio.Tape {
	t := chance.Pick(d.Dice, tapeKinds...)
	t.Crepe *= d.In(tapes.crepe)
	t.Fibre *= d.In(tapes.fibre)
	t.CrepeMM *= d.In(tapes.crepeMM)
	t.Colour = t.Colour.Times(d.In(tapes.light))
	t.Through, t.EdgeDark, t.Seed = through, d.In(tapes.edgeDark), d.Uint32()
	t.Deg = d.Angle()
	t.WidthMM = chance.Pick(d.Dice, tapes.widths...)
	t.WidthMM = max(t.WidthMM, 2*clear+tapes.beyond)
	s, c := math.Sincos(t.Deg * math.Pi / 180)
	room := t.WidthMM/2 - clear
	off := d.Between(-room, room) // of the mark from the tape's middle line
	t.Right, t.Up = right+s*off, up-c*off
	if d.Chance(tapes.torn) {
		t.LengthMM, t.TornMM = 2*clear+d.In(tapes.ends), d.In(tapes.tornMM)
	}
	d.wrinkles(&t, right, up, clear)
	return t
}

// folds are wrinkles in a strip (common practice, no source).
var folds = struct {
	most          int     // of them; each number from none to this is as likely
	width, length span    // mm
	depth         span    // share of light, up on one side and down on the other
	room          float64 // mm, between the mark's surroundings and a fold
	far           float64 // mm, how far from the mark one begins at most
	turn          span    // degrees, off the direction square to the line to the mark
}{most: 3, width: span{0.1, 0.5}, length: span{4, 16}, depth: span{0.04, 0.22}, room: 2, far: 16, turn: span{-30, 30}}

// wrinkles draws folds that stay clear of the mark: they run past it, not towards it.
func (d Draws) wrinkles(t *studio.Tape, right, up, clear float64) {
	for range d.IntN(folds.most + 1) {
		w := studio.Wrinkle{Deg: d.Angle(), WidthMM: d.In(folds.width), LengthMM: d.In(folds.length), Depth: d.In(folds.depth)}
		x, y := d.Disc(clear+folds.room, folds.far)
		w.Right, w.Up = right+x, up+y
		w.Deg = math.Atan2(y, x)*180/math.Pi + 90 + d.In(folds.turn)
		t.Wrinkles = append(t.Wrinkles, w)
	}
}
