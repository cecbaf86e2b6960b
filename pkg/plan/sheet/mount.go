package sheet

import (
	"math"

	"burngauge.dev/burngauge/pkg/machine"
)

// mount is one mirror's plate as it is drawn: seen from behind, right and up of
// the mirror's middle, mm.
type mount struct {
	Screws  [3]machine.Screw
	Turns   [3]float64 // to turn, clockwise positive; 0: leave alone
	Back    [3]float64 // to turn back after that; 0: not
	ClearMM float64
}

func newMount(m machine.Mirror) mount { return mount{Screws: m.Screws.Points, ClearMM: m.ClearMM} }

// bounds hold the screws and the mirror's middle.
func (m mount) bounds() (left, right, bottom, top float64) {
	for _, s := range m.Screws {
		left, right = min(left, s.RightMM), max(right, s.RightMM)
		bottom, top = min(bottom, s.UpMM), max(top, s.UpMM)
	}
	return left, right, bottom, top
}

// nearest is the least distance between two screws, mm.
func (m mount) nearest() float64 {
	least := math.Inf(1)
	for i, a := range m.Screws {
		for _, b := range m.Screws[i+1:] {
			least = min(least, math.Hypot(a.RightMM-b.RightMM, a.UpMM-b.UpMM))
		}
	}
	return least
}
