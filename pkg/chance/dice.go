package chance

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
)

// Dice draws what scenes are made of. The same seeds give the same draws.
type Dice struct{ *rand.Rand }

// New starts a stream of draws from two seeds: one for a set, one within it.
func New(seed, stream uint64) Dice { return Dice{rand.New(rand.NewPCG(seed, stream))} }

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

// Disc draws a place evenly from a ring between two radii, mm.
func (d Dice) Disc(inner, outer float64) (right, up float64) {
	r := math.Sqrt(d.Between(inner*inner, outer*outer))
	s, c := math.Sincos(d.Between(0, 2*math.Pi))
	return r * c, r * s
}

// Pick draws one of a list, which must not be empty.
func Pick[T any](d Dice, list ...T) T { return list[d.IntN(len(list))] }

// Stream names a stream of draws within a seed (FNV-1a, 64 bit).
func Stream(name string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(name)) // never fails
	return h.Sum64()
}
