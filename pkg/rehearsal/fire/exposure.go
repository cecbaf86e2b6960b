package fire

import (
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/studio/invent"
)

// Exposure is how long the pulse is.
type Exposure string

// Exposures by what they leave on the tape.
const (
	Faint  Exposure = "faint"  // a small brown mark
	Normal Exposure = "normal" // a black dot
	Heavy  Exposure = "heavy"  // a large one, scorched round, with ash or a hole in it
)

// Exposures are all of them, the shortest pulse first.
var Exposures = []Exposure{Faint, Normal, Heavy}

// pulse draws the burn of one pulse. A short one burns only where the beam is
// strongest; a long one burns wider, scorches the tape round it, and leaves ash or
// a hole (common practice: burns of 2 to 5 mm).
func pulse(d invent.Draws, e Exposure, right, up float64) studio.Burn {
	switch e {
	case Faint:
		b := d.Burn(right, up, d.Between(1.7, 2.3))
		b.Strength = d.Between(0.5, 0.65)
		return b
	case Heavy:
		b := d.Burn(right, up, d.Between(4.2, 5.2))
		small := b.Lobes[0].MinorMM
		b.HaloMM, b.Halo = small*d.Between(0.15, 0.3), d.Between(0.15, 0.3)
		b.HaloTo, b.HaloBias = d.Angle(), d.Between(0, 0.4)
		b.Lobes[0].EdgeMM = min(b.Lobes[0].EdgeMM, 0.5)
		if d.Chance(0.5) {
			b.AshMM = small * d.Between(0.35, 0.6)
		} else {
			b.HoleMM = small * d.Between(0.3, 0.6)
		}
		return b
	}
	return d.Burn(right, up, d.Between(2.8, 3.8))
}
