package invent

import (
	"math"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/studio"
)

// Lights draws one or two lamps and the room's light; uneven 0..1 says how
// steep the fall across the target may be.
func (d Draws) Lights(uneven float64) studio.Lights {
	l := studio.Lights{Ambient: d.Tint(d.Between(0.15, 0.5), d.Between(0, 0.12))}
	lamps := 1 + d.IntN(2)
	for range lamps {
		away := d.Between(120, 600) * (1.2 - uneven)
		deg := d.Angle()
		s, c := math.Sincos(deg * math.Pi / 180)
		side := away * d.Between(0.1, 0.6+1.2*uneven)
		l.Lamps = append(l.Lamps, studio.Lamp{At: [3]float64{c * side, s * side, away},
			Colour: d.Tint(1, d.Between(0, 0.15)), Strength: d.Between(0.3, 0.8) / float64(lamps)})
	}
	return l
}

// Shade draws a shadow that crosses the target.
func (d Draws) Shade(outer float64) studio.Shade {
	right, up := d.Disc(0, outer)
	return studio.Shade{Shape: studio.ShadeShape(d.IntN(3)), Right: right, Up: up, Deg: d.Angle(), SizeMM: outer * d.Between(0.15, 0.9),
		SoftMM: chance.Pick(d.Dice, d.Between(0.3, 1), d.Between(2, 12)), Depth: d.Between(0.25, 0.65)}
}

// Glare draws a reflection at a place.
func (d Draws) Glare(right, up, size, strength float64) studio.Glare {
	return studio.Glare{Right: right, Up: up, LongMM: size, ShortMM: size * d.Between(0.6, 1), Deg: d.Angle(), Strength: strength,
		Colour: d.Tint(1, 0.06), Broken: d.Between(0, 0.4), TextureMM: d.Between(0.3, 1.2), TextureKey: d.Uint32()}
}

// Pointer draws an aiming dot.
func (d Draws) Pointer(right, up float64) studio.Pointer {
	s := d.Between(0.3, 0.75)
	return studio.Pointer{Right: right, Up: up, LongMM: s, ShortMM: s * d.Between(0.75, 1), Deg: d.Angle(),
		Strength: d.Between(1.5, 14), Glow: d.Between(0.01, 0.06), Speckle: d.Between(0.1, 0.6),
		SpeckleMM: d.Between(0.05, 0.16), Seed: d.Uint32()}
}
