package pointer

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/spot/flat"
)

// painted is a ground of which every cell is known: a square of grey tape that
// reflects 0.4, with what light adds, the same in all colours.
func painted(light func(x, y float64) float64) *ground {
	const n, step, tape = 101, 0.06, 0.4
	set := DefaultSettings()
	g := &ground{
		Field: &flat.Field{N: n, Step: step, X0: -step * (n / 2), Y0: -step * (n / 2)},
		set:   &set, reach: set.FirstReachMM, weight: square(step / set.GrainMM),
	}
	for c := range g.Colour {
		g.Colour[c], g.light[c], g.paint[c] = make([]float64, n*n), make([]float64, n*n), make([]float64, n*n)
		g.tape[c] = tape
	}
	for k := range n * n {
		x, y := g.Centre(k)
		v := tape + light(x, y)
		for c := range g.Colour {
			g.Colour[c][k], g.light[c][k], g.paint[c][k] = v, tape, 1
		}
		if math.Hypot(x, y) < g.reach {
			g.fitted = append(g.fitted, k)
		}
	}
	return g
}

// ramp rises linearly from 0 at a to 1 at b.
func ramp(v, a, b float64) float64 { return max(0, min(1, (v-a)/(b-a))) }

// bell is a Gaussian dot of a height; long and short are its sigmas, turned by
// angle.
func bell(height, right, up, long, short, angle float64) func(x, y float64) float64 {
	s, c := math.Sincos(angle)
	return func(x, y float64) float64 {
		x, y = x-right, y-up
		u, v := (c*x+s*y)/long, (c*y-s*x)/short
		return height * math.Exp(-0.5*(u*u+v*v))
	}
}

// settled fits from the middle of the square.
func settled(t *testing.T, g *ground) *sighting {
	t.Helper()
	h := &sighting{ground: g}
	require.True(t, h.settle(g))
	return h
}

// An exact dot, without noise: what is left is the falloff's straight pieces.
const tolExactMM = 0.003

func TestDotIsWhereItsLightIsSymmetrical(t *testing.T) {
	core := bell(0.3, 0.137, -0.211, 0.5, 0.5, 0)
	for name, light := range map[string]func(x, y float64) float64{
		"gaussian":            core,
		"lengthened":          bell(0.3, 0.137, -0.211, 0.6, 0.42, 0.5),
		"core in a wide glow": func(x, y float64) float64 { return core(x, y) + bell(0.06, 0.137, -0.211, 1.5, 1.5, 0)(x, y) },
		"burnt out":           func(x, y float64) float64 { return min(0.6, 12*core(x, y)) },
		"exponential":         func(x, y float64) float64 { return 0.5 * math.Exp(-math.Hypot(x-0.137, y+0.211)/0.4) },
		"flat disc, soft":     func(x, y float64) float64 { return 0.4 * ramp(math.Hypot(x-0.137, y+0.211), 0.9, 0.6) },
	} {
		h := settled(t, painted(light))
		assert.InDelta(t, 0.137, h.x, tolExactMM, name)
		assert.InDelta(t, -0.211, h.y, tolExactMM, name)
	}
}

// A dot of which only a part is seen: the rest of its light has the same
// middle, where a first moment would be pulled by up to 0.2 mm.
func TestHalfHiddenDotKeepsItsMiddle(t *testing.T) {
	const tolHiddenMM = 0.01
	g := painted(bell(0.3, 0.1, 0.05, 0.5, 0.5, 0))
	var left []int
	for _, k := range g.fitted {
		if x, y := g.Centre(k); x+0.3*y < 0.15 {
			left = append(left, k)
		}
	}
	g.fitted = left
	h := settled(t, g)
	assert.InDelta(t, 0.1, h.x, tolHiddenMM)
	assert.InDelta(t, 0.05, h.y, tolHiddenMM)
}

// Sizes are four sigmas, as ISO 11146-1 has them, and the axis runs from right
// towards up.
func TestDotHasItsSizeAndAxis(t *testing.T) {
	const tolSize, tolAxis = 0.06, 0.03
	h := settled(t, painted(bell(0.3, 0, 0, 0.55, 0.4, 0.5)))
	major, minor, axis := h.principal()
	assert.InDelta(t, 4*0.55, major, tolSize)
	assert.InDelta(t, 4*0.4, minor, tolSize)
	assert.InDelta(t, 0.5, axis, tolAxis)
}

// scipy 1.10.1's curve_fit of a turned elliptical Gaussian on a level, over the same
// cells with the same noise, gives the middle 0.13683, -0.20864 (standard errors 0.0029, 0.0026).
func TestNoisyGaussianAgreesWithScipy(t *testing.T) {
	const tolFits = 0.003 // two good estimators on the same noise differ by a part of its effect
	light := bell(0.3, 0.137, -0.211, 0.5, 0.4, 0.5)
	g := painted(light)
	for k := range g.N * g.N {
		_, noise := math.Modf(math.Sin(float64(k)*12.9898+78.233) * 43758.5453)
		for c := range g.Colour {
			g.Colour[c][k] += 0.03 * noise
		}
	}
	h := settled(t, g)
	assert.InDelta(t, 0.13683, h.x, tolFits)
	assert.InDelta(t, -0.20864, h.y, tolFits)
}

// White noise of sd n per cell of side a: the information on a Gaussian dot's
// middle is the sum of the squared derivative, (A²/n²a²) π/2 for any width, so
// no estimator has a standard deviation below n a √(2/π) / A (Cramér and Rao).
// All three colours have the same noise here, and so count as one. The fit comes
// close, and what it states for itself is true on average.
func TestScatterIsNearTheCramerRaoBound(t *testing.T) {
	const noise, height, runs = 0.03, 0.3, 60
	rng := rand.New(rand.NewPCG(7, 11))
	var actual, stated float64
	for range runs {
		g := painted(bell(height, 0.02, -0.03, 0.5, 0.5, 0))
		for k := range g.N * g.N {
			v := g.Colour[0][k] + noise*rng.NormFloat64()
			for c := range g.Colour {
				g.Colour[c][k] = v
			}
		}
		h := settled(t, g)
		actual += (square(h.x-0.02) + square(h.y+0.03)) / 2 / runs
		cov := h.covariance(g)
		stated += (cov[0][0] + cov[1][1]) / 2 / runs
	}
	bound := noise * 0.06 * math.Sqrt(2/math.Pi) / height
	assert.Greater(t, math.Sqrt(actual), 0.8*bound, "better than can be: the noise is not what it seems")
	assert.Less(t, math.Sqrt(actual), 1.4*bound)
	assert.InDelta(t, 1, math.Sqrt(stated/actual), 0.3)
}

// The example worked by hand: 3 and 4 pool to 3.5; then 2 and 1, 2 to 1.5.
func TestFallOutwardsPoolsWhatRises(t *testing.T) {
	v := []float64{5, 3, 4, 1, 2}
	fallOutwards(v, []float64{1, 1, 1, 1, 1})
	assert.Equal(t, []float64{5, 3.5, 3.5, 1.5, 1.5}, v)
	w := []float64{1, 4}
	fallOutwards(w, []float64{1, 2})
	assert.Equal(t, []float64{3, 3}, w, "weighted mean")
}

// A dot on plain tape is found from anywhere near it, so that no start adds to
// its uncertainty; also when its core is burnt out.
func TestPlainDotIsFoundFromAnyStart(t *testing.T) {
	const tolSame = 1e-3
	core := bell(0.3, 0.1, 0.05, 0.5, 0.45, 0.7)
	for name, light := range map[string]func(x, y float64) float64{
		"gaussian":  core,
		"burnt out": func(x, y float64) float64 { return min(0.6, 12*core(x, y)) },
	} {
		h := settled(t, painted(light))
		h.width = h.fall[red].halfWidth()
		assert.Less(t, h.startsUncertainty(), tolSame, name)
	}
}
