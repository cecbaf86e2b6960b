package spot

import (
	"math"

	"burngauge.dev/burngauge/pkg/stat"
)

// A shadow's or a tape's edge that runs through the mark leaves its place
// within the mark unknown, and so the light that each part of the mark would
// have had. From simulated photos: a tenth of a millimetre for each unit of
// unevenness beyond what smooth light has.
const (
	unevenMM   = 0.10
	evenEnough = 0.06
	unevenFrom = 0.35 // mm: from the core outward lies its soft edge
)

// mostHalved: of a burn half in a shadow that takes 70 % of the light (0.54) only
// the half in one light was found, 0.8 to 1.3 mm off. Simulated photos that are
// measured right have up to 0.44.
const mostHalved = 0.48

// unevenU is the standard uncertainty per axis from uneven light about the
// mark, mm.
func (d *darkness) unevenU(m moment) float64 {
	return unevenMM * max(0, d.unevenness(m)-evenEnough)
}

// unevenness is the contrast, (high - low) / (high + low), between the lightest
// and the darkest of the eight directions about the mark.
func (d *darkness) unevenness(m moment) float64 {
	const directions = 8
	var about [directions][]float64
	for k, r := range d.fromCore() {
		mm := r * d.step
		if d.core.in[k] || mm < unevenFrom || mm > haloMM || math.IsNaN(d.light[k]) {
			continue
		}
		x, y := d.place(k%d.n, k/d.n)
		turn := (math.Atan2(y-m.y, x-m.x) + math.Pi) / (2 * math.Pi)
		sector := min(int(turn*directions), directions-1)
		about[sector] = append(about[sector], d.light[k])
	}
	low, high := math.Inf(1), 0.0
	for _, light := range about {
		if len(light) > 0 {
			v := stat.Median(light)
			low, high = min(low, v), max(high, v)
		}
	}
	if !(high > 0) || math.IsInf(low, 1) {
		return 0
	}
	return (high - low) / (high + low)
}
