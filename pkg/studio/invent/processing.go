package invent

import (
	"burngauge.dev/burngauge/pkg/studio/darkroom"
)

// Processing draws what a phone makes of the light. Its blur is in px, whatever the picture's size.
func (d Draws) Processing() darkroom.Settings {
	v := darkroom.Default()
	v.BlurPX = d.Between(0.5, 1.1)
	v.Vignette, v.Flare = d.Between(0, 0.35), d.Between(0, 0.02)
	v.Shot, v.Read = 1/d.Between(1200, 8000), d.Between(0.001, 0.004)
	v.Mosaic = d.Chance(0.8)
	if d.Chance(0.6) {
		v.Sharpen, v.SharpenPX = d.Between(0.2, 0.9), d.Between(0.7, 1.6)
	}
	v.Gamma, v.Curve = d.Between(0.88, 1.12), d.Between(0, 0.45)
	v.Quality, v.Seed = 60+d.IntN(36), d.Uint64()
	return v
}
