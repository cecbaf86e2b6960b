package conic

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// offAxis is a general view: f = 3000 px, principal point (2016, 1512), the
// plane's normal along (0.3, 0.4, 1), centre at (20, -35, 220) mm.
func offAxis() view {
	return facing(3000, Point{2016, 1512}, [3]float64{0.3, 0.4, 1}, [3]float64{20, -35, 220})
}

// poses are CirclePoses of the ellipse, the one that the view has first.
func poses(t *testing.T, e Ellipse, w view, radius float64) (truth, wrong Pose) {
	t.Helper()
	both, err := CirclePoses(e, w.focal, w.principal, radius)
	require.NoError(t, err)
	normal := cross(w.u, w.v)
	truth, wrong = both[0], both[1]
	if math.Abs(dot(truth.Normal, normal)) < math.Abs(dot(wrong.Normal, normal)) {
		truth, wrong = wrong, truth
	}
	return truth, wrong
}

// The middle of a circle's image is not the image of its centre. Exact values
// for f = 3000, d = 200, sin tau = 3/5, from the closed form
// y = -f r² sin cos / (d² - r² sin²), semi-axes r f / √(d² - r² sin²) and
// r f d cos / (d² - r² sin²), which follow from putting the view into the
// circle's equation; S. J. Ahn, H.-J. Warnecke, R. Kotowski, Photogrammetric
// Record 16(93) (1999) 485 give it for any position.
func TestImageOfACircle(t *testing.T) {
	w := tilted(3000, 200, math.Asin(0.6))
	for _, c := range []struct{ r, y, semiX, semiY, plane float64 }{
		{5, -36000. / 39991, 15000 / math.Sqrt(39991), 2400000. / 39991, 3. / 40},
		{10, -36000. / 9991, 30000 / math.Sqrt(39964), 1200000. / 9991, 3. / 10},
		{15, -324000. / 39919, 45000 / math.Sqrt(39919), 7200000. / 39919, 27. / 40},
		{20, -36000. / 2491, 60000 / math.Sqrt(39856), 600000. / 2491, 6. / 5},
	} {
		want := Ellipse{0, c.y, c.semiX, c.semiY, 0}
		fit, err := FitDirect(w.circle(c.r, 100))
		require.NoError(t, err)
		assertEllipse(t, want, fit, 1e-9)

		// From the closed form's ellipse, without the fit, back to the plane.
		truth, _ := poses(t, want, w, c.r)
		assert.InDelta(t, 0.6, math.Sin(tilt(truth)), 1e-7)
		for i, at := range [3]float64{0, 0, 200} {
			assert.InDelta(t, at, truth.Centre[i], 1e-6)
		}
		off := plus(w.through(Point{0, c.y}, truth), scaled(truth.Centre, -1))
		assert.InDelta(t, c.plane, math.Sqrt(dot(off, off)), 1e-6)
	}
	for degrees, y := range map[float64]float64{15: -7.505027415, 30: -13.022938403, 45: -15.075376884} {
		e, err := FitDirect(tilted(3000, 200, degrees*math.Pi/180).circle(20, 100))
		require.NoError(t, err)
		assert.InDelta(t, y, e.Y, 1e-8)
	}
}

// In the plane the middle lies r² sin(tau)/depth from the centre, towards the
// side nearer to the camera, whatever the position and focal length: it is the
// pole of the plane's line at the camera's own depth.
func TestMiddleOfTheImageInThePlane(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		w := facing(1000+3000*rng.Float64(), Point{2000 * rng.Float64(), 1500 * rng.Float64()},
			[3]float64{rng.NormFloat64(), rng.NormFloat64(), -2},
			[3]float64{30 * rng.NormFloat64(), 30 * rng.NormFloat64(), 150 + 200*rng.Float64()})
		r := 2 + 18*rng.Float64()
		e, err := FitDirect(w.circle(r, 60))
		require.NoError(t, err)
		truth, _ := poses(t, e, w, r)
		off := plus(w.through(Point{e.X, e.Y}, truth), scaled(w.centre, -1))
		sinTilt := math.Hypot(w.u[2], w.v[2]) // what the plane's directions lose to depth
		require.InDelta(t, r*r*sinTilt/w.centre[2], math.Sqrt(dot(off, off)), 1e-5)
		require.LessOrEqual(t, off[2], 1e-9)
	}
}

// The off-axis view; the numbers were recomputed with numpy from H = K [u v t].
func TestOffAxisView(t *testing.T) {
	w := offAxis()
	const digits = 1e-9 // given to ten decimals
	for in, want := range map[Point]Point{
		{0, 0}:  {2288.7272727273, 1034.7272727273},
		{3, 0}:  {2329.1380693333, 1032.8497799646},
		{0, 3}:  {2285.7823025282, 1070.8671787576},
		{-4, 5}: {2230.0214838447, 1097.3330021394},
	} {
		got := w.project(in.X, in.Y)
		assert.InDelta(t, want.X, got.X, digits)
		assert.InDelta(t, want.Y, got.Y, digits)
	}
	for _, c := range []struct{ r, x, y float64 }{
		{5, 2289.1273891931, 1035.1738815993},
		{10, 2290.3282348078, 1036.5142620918},
		{20, 2295.1390728477, 1041.8841059603},
	} {
		e, err := FitDirect(w.circle(c.r, 100))
		require.NoError(t, err)
		assert.InDelta(t, c.x, e.X, digits)
		assert.InDelta(t, c.y, e.Y, digits)
	}
	e, err := FitDirect(w.circle(20, 100))
	require.NoError(t, err)
	c := e.Conic()
	for _, entry := range []struct {
		i, j int
		want float64
	}{{0, 1, .1383724962}, {1, 1, 1.2550609447}, {0, 2, -2439.3071773398}, {1, 2, -1625.2121729389}, {2, 2, 7220384.436134742}} {
		assert.InEpsilon(t, entry.want, c[entry.i][entry.j]/c[0][0], 1e-9)
	}
}

// One circle and a known camera leave two poses.
func TestOneCircleHasTwoPoses(t *testing.T) {
	w := offAxis()
	e, err := FitDirect(w.circle(20, 100))
	require.NoError(t, err)
	truth, wrong := poses(t, e, w, 20)
	normal := unit([3]float64{0.3, 0.4, 1})
	for i := range 3 {
		assert.InDelta(t, -normal[i], truth.Normal[i], 1e-8) // towards the camera
		assert.InDelta(t, w.centre[i], truth.Centre[i], 1e-5)
	}
	assert.InDelta(t, 26.565051177, tilt(truth)*180/math.Pi, 1e-6) // tan = 1/2
	// The false pose, recomputed with numpy; there its normal points away.
	for i, want := range []float64{-0.1141612671, -0.6180654477, 0.7777932292} {
		assert.InDelta(t, -want, wrong.Normal[i], 1e-8)
	}
	at := w.seen(wrong)
	assert.InDelta(t, 2296.4271711851, at.X, 1e-5)
	assert.InDelta(t, 1055.3161316472, at.Y, 1e-5)
}

func TestTwoPosesOnTheOpticalAxis(t *testing.T) {
	// True normal (0, -0.6, 0.8), false (0, 0.5923143029, 0.8057069979) with its
	// centre at y = -28.7195851615 px; recomputed with numpy. The ellipse is
	// TestImageOfACircle's.
	w := tilted(3000, 200, math.Asin(0.6))
	truth, wrong := poses(t, Ellipse{0, -36000. / 2491, 60000 / math.Sqrt(39856), 600000. / 2491, 0}, w, 20)
	assert.InDelta(t, 0.6, truth.Normal[1], 1e-8)
	assert.InDelta(t, -0.8, truth.Normal[2], 1e-8)
	assert.InDelta(t, 200, truth.Centre[2], 1e-6)
	assert.InDelta(t, -0.5923143029, wrong.Normal[1], 1e-8)
	assert.InDelta(t, -0.8057069979, wrong.Normal[2], 1e-8)
	assert.InDelta(t, -28.7195851615, w.seen(wrong).Y, 1e-5)
}

func TestBothPosesGiveTheEllipseBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for range 300 {
		principal := Point{2000, 1500}
		a := 50 + 400*rng.Float64()
		want := Ellipse{4000 * rng.Float64(), 3000 * rng.Float64(), a, a * (0.4 + 0.6*rng.Float64()), fold(3 * rng.Float64())}
		both, err := CirclePoses(want, 2800, principal, 8)
		require.NoError(t, err)
		for _, p := range both {
			require.InDelta(t, 1, dot(p.Normal, p.Normal), 1e-12)
			require.Negative(t, dot(p.Normal, p.Centre))
			require.Positive(t, p.Centre[2])
			for _, q := range facing(2800, principal, p.Normal, p.Centre).circle(8, 12) {
				require.InDelta(t, 0, distance(want, q), 1e-6)
			}
		}
	}
}

func TestPosesOfACircleSeenSquarelyAreOne(t *testing.T) {
	both, err := CirclePoses(Ellipse{500, 400, 40, 40, 0}, 1000, Point{500, 400}, 8)
	require.NoError(t, err)
	for _, p := range both {
		assert.InDelta(t, 200, p.Centre[2], 1e-9)
		assert.InDelta(t, 0, tilt(p), 1e-7)
	}
	for _, bad := range []Ellipse{{}, {500, 400, math.NaN(), 1, 0}} {
		_, err := CirclePoses(bad, 1000, Point{}, 8)
		assert.ErrorIs(t, err, ErrNotEllipse)
	}
	_, err = CirclePoses(Ellipse{0, 0, 4, 4, 0}, 0, Point{}, 8)
	assert.ErrorIs(t, err, ErrNotEllipse)
}
