package invent

import "burngauge.dev/burngauge/pkg/studio/darkroom"

// phones are what lens, sensor and processing of phones do (common practice, no
// source). Fields are named after those of darkroom.Settings.
var phones = struct {
	blurPX    span    // px, sigma of a lens in focus
	vignette  span    // share of light lost in the corners
	flare     span    // stray light, in white papers
	electrons span    // at full scale: 1/Shot
	read      span    // noise in the dark, share of full scale
	mosaic    float64 // probability of one colour a pixel; other photos were made smaller after the sensor
	sharpened float64 // probability of sharpening
	sharpen   span    // its strength
	sharpenPX span    // px, its sigma
	gamma     span    // exponent on the coded value
	curve     span    // S-shaped contrast
	quality   [2]int  // JPEG, from the first to below the second
}{
	blurPX: span{0.5, 1.1}, vignette: span{0, 0.35}, flare: span{0, 0.02}, electrons: span{1200, 8000}, read: span{0.001, 0.004},
	mosaic: 0.8, sharpened: 0.6, sharpen: span{0.2, 0.9}, sharpenPX: span{0.7, 1.6}, gamma: span{0.88, 1.12}, curve: span{0, 0.45},
	quality: [2]int{60, 96},
}

// Processing draws what a phone makes of the light. Its blur is in px, whatever the
// picture's size.
func (d Draws) Processing() darkroom.Settings {
	p, v := &phones, darkroom.Default()
	v.BlurPX = d.In(p.blurPX)
	v.Vignette, v.Flare = d.In(p.vignette), d.In(p.flare)
	v.Shot, v.Read = 1/d.In(p.electrons), d.In(p.read)
	v.Mosaic = d.Chance(p.mosaic)
	if d.Chance(p.sharpened) {
		v.Sharpen, v.SharpenPX = d.In(p.sharpen), d.In(p.sharpenPX)
	}
	v.Gamma, v.Curve = d.In(p.gamma), d.In(p.curve)
	v.Quality, v.Seed = p.quality[0]+d.IntN(p.quality[1]-p.quality[0]), d.Uint64()
	return v
}
