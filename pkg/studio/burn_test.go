package studio

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// tolMM is what a grid of momentCells² cells resolves of a hard edge, mm on bodies of a few mm.
const tolMM = 2e-3

func hard(right, up, major, minor, deg float64) Burn {
	return Burn{Lobes: []Lobe{{Right: right, Up: up, MajorMM: major, MinorMM: minor, AxisDeg: deg}}, Strength: 1}
}

// ISO 11146-1: a uniform disc's 4 sigma is its diameter.
func TestMomentsOfAUniformDisc(t *testing.T) {
	b := hard(1.2, -0.7, 2, 2, 0)
	m := b.Moments()
	assert.InDelta(t, 1.2, m.Right, tolMM)
	assert.InDelta(t, -0.7, m.Up, tolMM)
	assert.InDelta(t, 4, m.Major, tolMM)
	assert.InDelta(t, 4, m.Minor, tolMM)
	assert.InDelta(t, 0, m.SpreadMM, 1e-9)
	assert.InDelta(t, 4*math.Pi, m.IntegralMM2, 4*tolMM)
}

// ISO 11146-1: a uniform ellipse a, b has 4 sigma of 2a and 2b along its axes.
func TestMomentsOfAUniformEllipse(t *testing.T) {
	for _, deg := range []float64{30, 60, 45, -20} {
		b := hard(0, 0, 3, 2, deg)
		m := b.Moments()
		assert.InDelta(t, 6, m.Major, 2*tolMM)
		assert.InDelta(t, 4, m.Minor, 2*tolMM)
		assert.InDelta(t, deg, m.AxisDeg, 0.1)
	}
}

// A disc whose edge falls by the cubic step over a width e. Integrating by parts,
// ∫D rⁿ dr = <(R+eu)^(n+1)>/(n+1), u spread over -1/2..1/2 with the density -dD/du = 3/2-6u²:
// <u²> = 1/20, <u⁴> = 3/560. Worked by hand; sigma² = ∫D r³ dr / (2 ∫D r dr).
func TestMomentsOfASoftDisc(t *testing.T) {
	const r, e = 1.5, 0.8
	b := hard(0, 0, r, r, 0)
	b.Lobes[0].EdgeMM = e
	second := (r*r + e*e/20) / 2
	fourth := (r*r*r*r + 6*r*r*e*e/20 + e*e*e*e*3/560) / 4
	sigma := math.Sqrt(fourth / second / 2)
	m := b.Moments()
	assert.InDelta(t, 4*sigma, m.Major, tolMM)
	assert.InDelta(t, 4*sigma, m.Minor, tolMM)
	assert.InDelta(t, 2*math.Pi*second, m.IntegralMM2, tolMM)
}

// A Gaussian of 1/e² radius w has 4 sigma = 2w (ISO 11146-1); checked on the
// integrator itself, since no burn is Gaussian.
func TestAxesOfAGaussian(t *testing.T) {
	const w, cell = 1.4, 0.01
	var s sums
	for y := -4 * w; y < 4*w; y += cell {
		for x := -4 * w; x < 4*w; x += cell {
			s.add(x, y, math.Exp(-2*(x*x+y*y)/(w*w)))
		}
	}
	major, minor, _ := s.axes()
	assert.InDelta(t, 2*w, major, 1e-9)
	assert.InDelta(t, 2*w, minor, 1e-9)
}

// Clipped disc, x <= hR: shift -(2/3)(1-h²)^(3/2)/A·R with A = π - acos h + h√(1-h²);
// h = 0.5 has 4 sigma 1.58203 R and 2.08391 R (by integrating the disc numerically, ±1e-3).
func TestMomentsOfAClippedDisc(t *testing.T) {
	const radius = 2.0
	for _, k := range []struct{ h, shift float64 }{{0.9, -0.017909538}, {0.75, -0.066183036}, {0.5, -0.171326804}, {0, -0.424413182}} {
		b := hard(0.3, 0.4, radius, radius, 0)
		b.Clips = []Clip{{AtMM: 0.3 + k.h*radius}}
		m := b.Moments()
		assert.InDelta(t, 0.3+k.shift*radius, m.Right, tolMM, "h = %g", k.h)
		assert.InDelta(t, 0.4, m.Up, tolMM)
		if k.h == 0.5 {
			assert.InDelta(t, 2.08391*radius, m.Major, 1e-3*radius+tolMM)
			assert.InDelta(t, 1.58203*radius, m.Minor, 1e-3*radius+tolMM)
		}
	}
}

// Two edges leave what passes both: a quarter of a disc, whose centroid lies 4R/(3π) from
// each of them (any table of centroids), and whose area is πR²/4.
func TestEachEdgeClipsInTurn(t *testing.T) {
	const radius = 2.0
	b := hard(0.3, 0.4, radius, radius, 0)
	b.Clips = []Clip{{AtMM: 0.3}, {AtMM: 0.4, Deg: 90}}
	m := b.Moments()
	assert.InDelta(t, 0.3-4*radius/(3*math.Pi), m.Right, tolMM)
	assert.InDelta(t, 0.4-4*radius/(3*math.Pi), m.Up, tolMM)
	assert.InDelta(t, math.Pi*radius*radius/4, m.IntegralMM2, 1e-2)
}

// Half a disc against the whole of it: the three definitions agree on a hard
// edge, and differ when one side has a wide weak surround.
func TestSpreadGrowsWithAOneSidedSurround(t *testing.T) {
	b := hard(0, 0, 1.5, 1.5, 0)
	b.HaloMM, b.Halo, b.HaloBias = 0.6, 0.4, 1
	m := b.Moments()
	assert.Greater(t, m.Right, 0.02, "the surround pulls to its own side")
	assert.InDelta(t, 0, m.Up, tolMM)
	assert.Greater(t, m.SpreadMM, 0.01)
	far := math.Hypot(m.Right-m.Binary50Right, m.Up-m.Binary50Up)
	assert.GreaterOrEqual(t, m.SpreadMM, far/2)
}
