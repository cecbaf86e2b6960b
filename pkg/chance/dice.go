package chance

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
)

// Dice is a stream of draws. The same seeds give the same draws in the same order:
// a draw that is added, dropped or moved changes all that come after it.
type Dice struct{ *rand.Rand }

// Range is what a number is drawn from: its lower and its upper end.
type Range [2]float64

// New starts a stream of draws from two numbers: a seed, and which stream within it.
func New(seed, stream uint64) Dice { return Dice{rand.New(rand.NewPCG(seed, stream))} }

// Between draws evenly from low to high. With low above high it draws from high to
// low; NaN gives NaN.
func (d Dice) Between(low, high float64) float64 { return low + (high-low)*d.Float64() }

// In draws evenly from a range.
func (d Dice) In(r Range) float64 { return d.Between(r[0], r[1]) }

// Chance is true with a probability, 0..1. It draws a number even where the answer
// is certain.
func (d Dice) Chance(probability float64) bool { return d.Float64() < probability }

// Sign is -1 or 1, either with probability 1/2.
func (d Dice) Sign() float64 {
	if d.Chance(0.5) {
		return -1
	}
	return 1
}

// Angle draws a direction in degrees, 0..360.
func (d Dice) Angle() float64 { return d.Between(0, 360) }

// Disc draws a place evenly by area from a ring between two radii: the area within
// a radius r grows as r², so r² is drawn evenly and its root taken.
func (d Dice) Disc(inner, outer float64) (x, y float64) {
	r := math.Sqrt(d.Between(inner*inner, outer*outer))
	s, c := math.Sincos(d.Between(0, 2*math.Pi))
	return r * c, r * s
}

// Pick draws one of a list, which must not be empty. What stands in it twice comes
// twice as often.
func Pick[T any](d Dice, list ...T) T { return list[d.IntN(len(list))] }

// Stream numbers a stream of draws by its name, so that streams need no list and one
// that is added leaves the others as they are. The hash is FNV-1a, 64 bit (G. Fowler,
// L. C. Noll, K.-P. Vo, D. Eastlake, "The FNV Non-Cryptographic Hash Algorithm",
// IETF draft draft-eastlake-fnv).
func Stream(name string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(name)) // never fails
	return h.Sum64()
}
