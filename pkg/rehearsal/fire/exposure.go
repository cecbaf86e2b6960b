package fire

import (
	"burngauge.dev/burngauge/pkg/chance"
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

// span is the range that a number is drawn from, evenly.
type span = chance.Range

// diameters of burns by the pulse, mm. A short one burns only where the beam is
// strongest, a long one wider: burns of 2 to 5 mm are common practice, without a source.
var diameters = map[Exposure]span{Faint: {1.7, 2.3}, Normal: {2.8, 3.8}, Heavy: {4.2, 5.2}}

// faintStrength is the share of the light that a faint burn takes away: brown, not black.
var faintStrength = span{0.5, 0.65}

// overburnt is what a long pulse does besides (common practice, no source). Lengths are
// shares of the burn's minor half axis.
var overburnt = struct {
	halo     span    // scale length of the scorched surround
	haloDark span    // its darkness at the outline, 0..1
	haloBias span    // 0: even all round, 1: all on one side
	edgeMM   float64 // mm, at most: the edge is sharper than an ordinary burn's
	ashen    float64 // probability of ash; otherwise there is a hole
	ash      span    // radius of the ash-white middle
	hole     span    // radius of the hole
}{halo: span{0.15, 0.3}, haloDark: span{0.15, 0.3}, haloBias: span{0, 0.4}, edgeMM: 0.5, ashen: 0.5, ash: span{0.35, 0.6}, hole: span{0.3, 0.6}}

// pulse draws the burn of one pulse at a place, mm right and up. An exposure that is none
// of Exposures burns as Normal does.
func pulse(d invent.Draws, e Exposure, right, up float64) studio.Burn {
	size, known := diameters[e]
	if !known {
		size = diameters[Normal]
	}
	b := d.Burn(right, up, d.In(size))
	switch e {
	case Faint:
		b.Strength = d.In(faintStrength)
	case Heavy:
		overburn(d, &b)
	}
	return b
}

// overburn scorches the tape round a burn, and leaves ash or a hole in it.
func overburn(d invent.Draws, b *studio.Burn) {
	g, small := &overburnt, b.Lobes[0].MinorMM
	b.HaloMM, b.Halo = small*d.In(g.halo), d.In(g.haloDark)
	b.HaloTo, b.HaloBias = d.Angle(), d.In(g.haloBias)
	b.Lobes[0].EdgeMM = min(b.Lobes[0].EdgeMM, g.edgeMM)
	if d.Chance(g.ashen) {
		b.AshMM = small * d.In(g.ash)
	} else {
		b.HoleMM = small * d.In(g.hole)
	}
}
