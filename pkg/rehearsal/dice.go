package rehearsal

import (
	"math"
	"math/rand/v2"
)

// Dice draws what scenes are made of. The same seeds give the same draws.
type Dice struct{ *rand.Rand }

// NewDice starts a stream of draws from two seeds: one for a set, one within it.
func NewDice(seed, stream uint64) Dice { return Dice{rand.New(rand.NewPCG(seed, stream))} }

// Between draws evenly from low to high.
func (d Dice) Between(low, high float64) float64 { return low + (high-low)*d.Float64() }

// Chance is true with the probability given.
func (d Dice) Chance(probability float64) bool { return d.Float64() < probability }

// Sign is -1 or 1.
func (d Dice) Sign() float64 {
	if d.Chance(0.5) {
		return -1
	}
	return 1
}

// Angle draws a direction in degrees, 0..360.
func (d Dice) Angle() float64 { return d.Between(0, 360) }

// Tint draws a colour of the luminance given, about; vivid 0 is grey, 1 strongly coloured.
func (d Dice) Tint(luminance, vivid float64) RGB {
	phase := d.Between(0, 2*math.Pi)
	channel := func(i float64) float64 { return 1 + vivid*math.Cos(phase+2*math.Pi*i/3) }
	c := RGB{channel(0), channel(1), channel(2)}
	return c.Times(luminance / c.Luminance())
}

// Disc draws a place evenly from a ring between two radii, mm.
func (d Dice) Disc(inner, outer float64) (right, up float64) {
	r := math.Sqrt(d.Between(inner*inner, outer*outer))
	s, c := math.Sincos(d.Between(0, 2*math.Pi))
	return r * c, r * s
}

// pick one of a list.
func pick[T any](d Dice, list ...T) T { return list[d.IntN(len(list))] }
