package invent

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNothingDarkBeyondReach(t *testing.T) {
	d := New(5, 6)
	for range 50 {
		b := d.Burn(0.4, -1, d.Between(1.2, 7))
		b.HaloMM, b.Halo = d.Between(0, 0.5), 0.4
		b.Lobes[0].MinorMM *= d.Between(0.4, 1)
		far := b.Reach()
		for a := 0.0; a < 2*math.Pi; a += 0.05 {
			dark := b.Dark(b.Lobes[0].Right+far*math.Cos(a), b.Lobes[0].Up+far*math.Sin(a))
			assert.Zero(t, dark)
		}
	}
}
