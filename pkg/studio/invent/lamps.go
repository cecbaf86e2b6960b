package invent

import (
	"math"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/studio"
)

// lighting is one or two lamps over a machine and the light of the room. Irradiance is
// in units in which a white surface looks 1 (common practice, no source).
var lighting = struct {
	ambient  tint    // light of the room, from everywhere
	away     span    // mm, height of a lamp above the target in the most even light
	nearer   float64 // that height is multiplied by nearer - uneven: the lamp comes closer
	aside    span    // how far beside the target a lamp hangs, as a share of its height
	slant    float64 // and how much of it uneven adds to the upper end of aside
	vivid    span    // a lamp's colour
	strength span    // irradiance of all lamps at the target's middle
}{
	ambient: tint{span{0.15, 0.5}, span{0, 0.12}}, away: span{120, 600}, nearer: 1.2,
	aside: span{0.1, 0.6}, slant: 1.2, vivid: span{0, 0.15}, strength: span{0.3, 0.8},
}

// Lights draws one or two lamps and the room's light; uneven 0..1 says how
// steep the fall across the target may be.
func (d Draws) Lights(uneven float64) studio.Lights {
	g := &lighting
	l := studio.Lights{Ambient: d.colour(g.ambient)}
	lamps := 1 + d.IntN(2)
	for range lamps {
		away := d.In(g.away) * (g.nearer - uneven)
		deg := d.Angle()
		s, c := math.Sincos(deg * math.Pi / 180)
		side := away * d.Between(g.aside[0], g.aside[1]+g.slant*uneven)
		l.Lamps = append(l.Lamps, studio.Lamp{At: [3]float64{c * side, s * side, away},
			Colour: d.Tint(1, d.In(g.vivid)), Strength: d.In(g.strength) / float64(lamps)})
	}
	return l
}

// shades are shadows of hands, cables and edges (common practice, no source).
var shades = struct {
	size  span // half width of a strip, radius of a blob, as a share of the outer ring's radius
	hard  span // mm, width of the half shadow of a thing close by
	soft  span // mm, of one farther away
	depth span // share of the light that is missing
}{size: span{0.15, 0.9}, hard: span{0.3, 1}, soft: span{2, 12}, depth: span{0.25, 0.65}}

// Shade draws a shadow that crosses the target, whose outer ring's radius is outer mm.
func (d Draws) Shade(outer float64) studio.Shade {
	right, up := d.Disc(0, outer)
	return studio.Shade{Shape: studio.ShadeShape(d.IntN(studio.ShadeShapes)), Right: right, Up: up, Deg: d.Angle(), SizeMM: outer * d.In(shades.size),
		SoftMM: chance.Pick(d.Dice, d.In(shades.hard), d.In(shades.soft)), Depth: d.In(shades.depth)}
}

// glares are a lamp's reflections on something shiny (common practice, no source).
var glares = struct {
	narrow span    // its width across over its length
	vivid  float64 // its colour: nearly the lamp's white
	broken span    // how far the surface's texture breaks it up, 0..1
	grain  span    // mm, size of those pieces
}{narrow: span{0.6, 1}, vivid: 0.06, broken: span{0, 0.4}, grain: span{0.3, 1.2}}

// Glare draws a reflection at a place; size is its Gaussian sigma in mm, strength 1 is as
// bright as white paper in full light.
func (d Draws) Glare(right, up, size, strength float64) studio.Glare {
	return studio.Glare{Right: right, Up: up, LongMM: size, ShortMM: size * d.In(glares.narrow), Deg: d.Angle(), Strength: strength,
		Colour: d.Tint(1, glares.vivid), Broken: d.In(glares.broken), TextureMM: d.In(glares.grain), TextureKey: d.Uint32()}
}

// dots are those of red aiming lasers of some milliwatts (common practice, no source).
var dots = struct {
	sigma     span // mm, of the Gaussian core: the dot looks about four times as wide
	narrow    span // its width across over its length
	strength  span // at the middle, in white papers in full light
	glow      span // strength of the wide glow as a share of the core's
	speckle   span // 0..1, depth of the speckle
	speckleMM span // mm, its size
}{sigma: span{0.3, 0.75}, narrow: span{0.75, 1}, strength: span{1.5, 14}, glow: span{0.01, 0.06},
	speckle: span{0.1, 0.6}, speckleMM: span{0.05, 0.16}}

// Pointer draws an aiming dot at a place.
func (d Draws) Pointer(right, up float64) studio.Pointer {
	s := d.In(dots.sigma)
	return studio.Pointer{Right: right, Up: up, LongMM: s, ShortMM: s * d.In(dots.narrow), Deg: d.Angle(),
		Strength: d.In(dots.strength), Glow: d.In(dots.glow), Speckle: d.In(dots.speckle),
		SpeckleMM: d.In(dots.speckleMM), Seed: d.Uint32()}
}
