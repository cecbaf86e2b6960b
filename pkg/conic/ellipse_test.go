package conic

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestConicVanishesOnTheEllipse(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		a := 10 + 300*rng.Float64()
		want := Ellipse{4000 * rng.Float64(), 3000 * rng.Float64(), a, a * (0.2 + 0.7*rng.Float64()), fold(3 * rng.Float64())}
		c := want.Conic()
		for i := range 7 {
			require.InDelta(t, 0, c.At(want.At(float64(i))), 1e-8)
		}
		require.InDelta(t, -1, c.At(Point{want.X, want.Y}), 1e-8)
		for i := range c { // any scale, any sign
			c[i] = scaled(c[i], -17)
		}
		m, err := c.Centre()
		require.NoError(t, err)
		assert.InDelta(t, want.X, m.X, 1e-7)
		assert.InDelta(t, want.Y, m.Y, 1e-7)
	}
}

func TestParabolaHasNoCentre(t *testing.T) {
	for name, c := range map[string]Conic{
		"parabola": {{1, 0, 0}, {0, 0, -1}, {0, -1, 0}},
		"nothing":  {},
	} {
		_, err := c.Centre()
		assert.ErrorIs(t, err, ErrNotEllipse, name)
	}
}

func TestAngleIsFolded(t *testing.T) {
	for in, want := range map[float64]float64{math.Pi / 2: math.Pi / 2, -math.Pi / 2: math.Pi / 2, 2: 2 - math.Pi, 0.3 + 3*math.Pi: 0.3} {
		assert.InDelta(t, want, fold(in), 1e-12)
	}
}
