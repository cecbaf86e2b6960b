package conic

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestDistanceIsTheLeastOverTheCurve(t *testing.T) {
	// Against a plain search along the curve, refined by thirds.
	rng := rand.New(rand.NewPCG(3, 4))
	for range 500 {
		e := Ellipse{rng.NormFloat64(), rng.NormFloat64(), 3, 3 * (0.05 + 0.95*rng.Float64()), rng.Float64()}
		p := Point{4 * rng.NormFloat64(), 4 * rng.NormFloat64()}
		require.InDelta(t, searched(e, p), math.Abs(e.Distance(p)), 1e-8, "%v %v", e, p)
		q := e.Nearest(p)
		require.InDelta(t, math.Abs(e.Distance(p)), math.Hypot(q.X-p.X, q.Y-p.Y), 1e-12)
		require.InDelta(t, 0, e.Conic().At(q), 1e-9)
		inside := e.Conic().At(p) < 0
		require.Equal(t, inside, e.Distance(p) < 0)
	}
}

// searched is the least distance over 2000 places, then by golden section.
func searched(e Ellipse, p Point) float64 {
	at := func(t float64) float64 { q := e.At(t); return math.Hypot(p.X-q.X, p.Y-q.Y) }
	const n = 2000
	best := 0.0
	for i := range n {
		if t := 2 * math.Pi * float64(i) / n; at(t) < at(best) {
			best = t
		}
	}
	low, high := best-2*math.Pi/n, best+2*math.Pi/n
	for range 80 {
		third := (high - low) / 3
		if at(low+third) < at(high-third) {
			high -= third
		} else {
			low += third
		}
	}
	return at((low + high) / 2)
}

func TestDistanceAtSpecialPlaces(t *testing.T) {
	e := Ellipse{0, 0, 5, 3, 0}
	cases := []struct {
		at   Point
		want float64
	}{
		{Point{0, 0}, -3},
		{Point{5, 0}, 0},
		{Point{7, 0}, 2},
		{Point{0, -4}, 1},
		{Point{-4, 0}, -1},    // beyond the centre of curvature at (a²-b²)/a = 3.2
		{Point{3.2, 0}, -1.8}, // on it
		// Before it the foot leaves the axis: at x = 1.6, cos t = 1.6·5/16 = 1/2,
		// foot (2.5, 3·√3/2), distance² = 0.81 + 6.75.
		{Point{1.6, 0}, -math.Sqrt(7.56)},
		{Point{1.6, 1e-300}, -math.Sqrt(7.56)},
	}
	for _, c := range cases {
		assert.InDelta(t, c.want, e.Distance(c.at), 1e-12, "%v", c.at)
	}
	circle := Ellipse{1, 2, 4, 4, 0}
	assert.InDelta(t, -4, circle.Distance(Point{1, 2}), 1e-12)
	assert.InDelta(t, 1, circle.Distance(Point{4, 6}), 1e-12)
}

func TestSampsonIsTheFirstOrderOfDistance(t *testing.T) {
	e := Ellipse{10, 20, 50, 30, 0.7}
	for i := range 20 {
		q := e.outward(Point{50.05 * math.Cos(float64(i)), 30.05 * math.Sin(float64(i))})
		// Second order: d²/2r with the least radius of curvature b²/a = 18.
		assert.InDelta(t, e.Distance(q), e.Sampson(q), 0.05*0.05/(2*18)*1.1)
	}
	// A circle, exactly: d (2r+d) / (2 (r+d)).
	assert.InDelta(t, 1.0*(2*4+1)/(2*(4+1)), Ellipse{0, 0, 4, 4, 0}.Sampson(Point{3, 4}), 1e-12)
	assert.True(t, math.IsInf(e.Sampson(e.Centre()), -1))
}

func TestConicAndEllipseAreInverse(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		a := 10 + 300*rng.Float64()
		want := Ellipse{4000 * rng.Float64(), 3000 * rng.Float64(), a, a * (0.2 + 0.7*rng.Float64()), fold(3 * rng.Float64())}
		c := want.Conic()
		require.InDelta(t, 0, c.At(want.At(1)), 1e-8)
		for i := range c { // any scale, any sign
			c[i] = scaled(c[i], -17)
		}
		got, err := c.Ellipse()
		require.NoError(t, err)
		assertEllipse(t, want, got, 1e-7)
		m, err := c.Centre()
		require.NoError(t, err)
		assert.InDelta(t, want.X, m.X, 1e-7)
	}
}

func TestConicThatIsNoEllipse(t *testing.T) {
	for name, c := range map[string]Conic{
		"hyperbola": {{1, 0, 0}, {0, -1, 0}, {0, 0, -1}},
		"parabola":  {{1, 0, 0}, {0, 0, -1}, {0, -1, 0}},
		"imaginary": {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
		"point":     {{1, 0, 0}, {0, 1, 0}, {0, 0, 0}},
		"nothing":   {},
	} {
		_, err := c.Ellipse()
		assert.ErrorIs(t, err, ErrNotEllipse, name)
	}
}

func TestAngleIsFolded(t *testing.T) {
	for in, want := range map[float64]float64{math.Pi / 2: math.Pi / 2, -math.Pi / 2: math.Pi / 2, 2: 2 - math.Pi, 0.3 + 3*math.Pi: 0.3} {
		assert.InDelta(t, want, fold(in), 1e-12)
	}
}
