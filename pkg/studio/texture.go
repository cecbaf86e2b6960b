package studio

import (
	"math"
)

// hash mixes a lattice place and a seed into 32 well spread bits (the finisher
// of a 32-bit multiply-xorshift hash; any good mixer would do).
func hash(ix, iy int32, seed uint32) uint32 {
	h := uint32(ix)*0x9E3779B1 ^ uint32(iy)*0x85EBCA77 ^ seed*0xC2B2AE3D
	h ^= h >> 15
	h *= 0x2C1B3C6D
	h ^= h >> 12
	h *= 0x297A2D39
	h ^= h >> 15
	return h
}

// lattice is a repeatable value in -1..1 for one lattice place.
func lattice(ix, iy int32, seed uint32) float64 {
	return float64(hash(ix, iy, seed))/(1<<31) - 1
}

// noise is value noise in -1..1 with features about one unit wide: the values at the four
// corners of the lattice cell, mixed by the weights (1-u)(1-v), u(1-v), (1-u)v, uv, where
// u and v are fade of the place in the cell. It is smooth (first derivative continuous,
// since fade is flat at both ends) and depends on nothing but its arguments.
func noise(x, y float64, seed uint32) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	ix, iy := int32(fx), int32(fy)
	u, v := fade(x-fx), fade(y-fy)
	top := lattice(ix, iy, seed) * (1 - u)
	top += lattice(ix+1, iy, seed) * u
	low := lattice(ix, iy+1, seed) * (1 - u)
	low += lattice(ix+1, iy+1, seed) * u
	return top*(1-v) + low*v
}

// fractal sums octaves of noise, each twice as fine and half as strong, over the sum of
// their strengths: Σ 2⁻ᵏ noise(2ᵏ x) / Σ 2⁻ᵏ, about -1..1. Each octave is moved aside and
// has a seed of its own, so that their lattices do not line up at the origin.
func fractal(x, y float64, octaves int, seed uint32) float64 {
	sum, gain, total := 0.0, 1.0, 0.0
	for range octaves {
		sum += gain * noise(x, y, seed)
		total += gain
		x, y, gain, seed = 2*x+octaveRight, 2*y-octaveDown, gain/2, seed+octaveSeed
	}
	return sum / total
}

// How far an octave is moved aside, in units of its own, and its seed from that of the one
// before: any numbers do.
const (
	octaveRight, octaveDown = 17.3, 9.1
	octaveSeed              = 101
)

// fade is the cubic step 3t² - 2t³ from 0 to 1 on 0..1: the one cubic whose ends are flat.
func fade(t float64) float64 { return t * t * (3 - 2*t) }

// step rises from 0 at from to 1 at to, flat outside.
func step(from, to, x float64) float64 {
	if x <= from {
		return 0
	}
	if x >= to {
		return 1
	}
	return fade((x - from) / (to - from))
}

// cycle is how far a place lies into a pattern that repeats, 0 up to the period:
// math.Mod(math.Mod(x, period)+period, period) to the last bit, and several times as quick.
// A remainder is always a number that can be held exactly, so that one rounding, of the
// fused product and difference, gives it whole.
func cycle(x, period float64) float64 {
	far := math.Abs(x)
	n := math.Floor(far / period)
	rest := math.FMA(-n, period, far)
	switch { // the quotient may have been rounded to the next whole number
	case rest < 0:
		rest = math.FMA(-(n - 1), period, far)
	case rest >= period:
		rest = math.FMA(-(n + 1), period, far)
	}
	at := math.Copysign(rest, x) + period
	for at >= period {
		at -= period
	}
	return at
}

// turned gives (x, y) in axes turned counter-clockwise by the angle whose cosine and sine are c, s.
func turned(x, y, c, s float64) (float64, float64) { return c*x + s*y, c*y - s*x }

// turn keeps cosine and sine of an angle that does not change. The zero value keeps
// none and works them out each time.
type turn struct {
	c, s float64
	kept bool
}

// keep works them out for an angle in degrees.
func (t *turn) keep(deg float64) {
	t.c, t.s = cosSin(deg)
	t.kept = true
}

// of gives cosine and sine of the angle, which must be the one kept if one is.
func (t *turn) of(deg float64) (c, s float64) {
	if t.kept {
		return t.c, t.s
	}
	return cosSin(deg)
}

// cosSin of an angle in degrees.
func cosSin(deg float64) (c, s float64) {
	s, c = math.Sincos(deg * math.Pi / 180)
	return c, s
}
