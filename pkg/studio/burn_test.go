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

// A hard disc of radius R with a surround that falls as H (1 + cos φ)(1 - s/3)², s = (r-R)/h,
// for 0 < s < 3. Integrated by hand with I(n,k) = ∫(R + h s)ⁿ (1 - s/3)ᵏ h ds over 0..3 and
// ∫(1 - s/3)² sᵐ ds = 1, 3/4, 9/10 for m = 0, 1, 2:
//
//	∫D   = π R² + 2π H (R h + 3h²/4)
//	∫x D = π H (R² h + 2 R h² 3/4 + h³ 9/10)     (the mean of cos² is 1/2; the disc adds none)
//
// With H (1 + cos φ) below 1/2 everywhere (H = 0.24) no place of the surround is darker than
// 1/2: the centre of the area above 1/2 is the disc's. Above 1/4 lies what has
// (1 + cos φ)(1 - s/3)² > 1/(4H): out to s = 3 (1 - √(1/(4H (1 + cos φ)))), integrated in φ with
// 10 000 steps. The spread is half the largest distance between the three.
func TestSpreadOfAOneSidedSurround(t *testing.T) {
	const r, h, dark = 1.5, 0.6, 0.24
	b := hard(0, 0, r, r, 0)
	b.HaloMM, b.Halo, b.HaloBias = h, dark, 1
	whole := math.Pi*r*r + 2*math.Pi*dark*(r*h+0.75*h*h)
	first := math.Pi * dark * (r*r*h + 1.5*r*h*h + 0.9*h*h*h)

	const steps = 10000
	area, moment := 0.0, 0.0
	for i := range steps {
		phi := (float64(i) + 0.5) * 2 * math.Pi / steps
		out := r
		if least := 1 / (4 * dark * (1 + math.Cos(phi))); least < 1 {
			out += 3 * h * (1 - math.Sqrt(least))
		}
		area += out * out / 2 * 2 * math.Pi / steps
		moment += math.Cos(phi) * out * out * out / 3 * 2 * math.Pi / steps
	}
	m := b.Moments()
	assert.InDelta(t, whole, m.IntegralMM2, 4*tolMM)
	assert.InDelta(t, first/whole, m.Right, tolMM)
	assert.InDelta(t, 0, m.Up, tolMM)
	assert.InDelta(t, 0, m.Binary50Right, tolMM)
	assert.InDelta(t, moment/area, m.Binary25Right, tolMM)
	assert.InDelta(t, max(first/whole, moment/area, math.Abs(first/whole-moment/area))/2, m.SpreadMM, tolMM)
}

// A hard edge leaves the definitions nothing to differ about.
func TestAHardEdgeHasNoSpread(t *testing.T) {
	assert.InDelta(t, 0, func() float64 { b := hard(0.7, -2, 1.5, 1.1, 25); return b.Moments().SpreadMM }(), 1e-9)
}
