package invent

import (
	"math"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/studio"
)

// Draws makes up what photos show. The same seeds give the same draws.
type Draws struct{ chance.Dice }

// span is the range that a number is drawn from, evenly.
type span = chance.Range

// New starts a stream of draws from two seeds: one for a set, one within it.
func New(seed, stream uint64) Draws { return Draws{chance.New(seed, stream)} }

// Tint draws a colour of a luminance; vivid 0 is grey, 1 strongly coloured. The three
// channels are samples of 1 + vivid cos at a phase drawn evenly, 120 degrees apart:
// any hue is as likely as any other. They are scaled to the luminance afterwards.
func (d Draws) Tint(luminance, vivid float64) studio.RGB {
	phase := d.Between(0, 2*math.Pi)
	channel := func(i float64) float64 { return 1 + vivid*math.Cos(phase+2*math.Pi*i/3) }
	c := studio.RGB{R: channel(0), G: channel(1), B: channel(2)}
	return c.Times(luminance / c.Luminance())
}

// tint is what Tint draws from.
type tint struct{ luminance, vivid span }

// colour draws a colour, its luminance first.
func (d Draws) colour(t tint) studio.RGB {
	luminance := d.In(t.luminance)
	return d.Tint(luminance, d.In(t.vivid))
}
