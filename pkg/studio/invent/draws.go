package invent

import (
	"math"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/studio"
)

// Draws makes up what photos show. The same seeds give the same draws.
type Draws struct{ chance.Dice }

// New starts a stream of draws from two seeds: one for a set, one within it.
func New(seed, stream uint64) Draws { return Draws{chance.New(seed, stream)} }

// Tint draws a colour of the luminance given, about; vivid 0 is grey, 1 strongly coloured.
func (d Draws) Tint(luminance, vivid float64) studio.RGB {
	phase := d.Between(0, 2*math.Pi)
	channel := func(i float64) float64 { return 1 + vivid*math.Cos(phase+2*math.Pi*i/3) }
	c := studio.RGB{R: channel(0), G: channel(1), B: channel(2)}
	return c.Times(luminance / c.Luminance())
}
