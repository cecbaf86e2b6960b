package conic

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tilted is the view of the closed form below: focal length f px, a plane at
// depth d mm on the optical axis, tilted by tau about the picture's x axis:
// (X, Y) -> f (X, Y cos tau) / (d + Y sin tau).
func tilted(f, d, tau float64) Homography {
	s, c := math.Sincos(tau)
	return Homography{{f, 0, 0}, {0, f * c, 0}, {0, s, d}}
}

// offAxis is a general view: f = 3000 px, principal point (2016, 1512), the
// plane's normal along (0.3, 0.4, 1), centre at (20, -35, 220) mm.
func offAxis() (h Homography, normal, centre [3]float64) {
	normal = unit([3]float64{0.3, 0.4, 1})
	centre = [3]float64{20, -35, 220}
	u := unit(cross([3]float64{0, 1, 0}, normal))
	v := cross(normal, u)
	k := Homography{{3000, 0, 2016}, {0, 3000, 1512}, {0, 0, 1}}
	return k.after(Homography{{u[0], v[0], centre[0]}, {u[1], v[1], centre[1]}, {u[2], v[2], centre[2]}}), normal, centre
}

var offAxisPrincipal = Point{2016, 1512}

// 2a, 2c: the middle of a circle's image is not the image of its centre.
func TestMiddleOfTheImageOfACircle(t *testing.T) {
	// Exact values for f = 3000, d = 200, sin tau = 3/5, from the closed form
	// y = -f r² sin cos / (d² - r² sin²), semi-axes r f / √(d² - r² sin²) and
	// r f d cos / (d² - r² sin²), which follow from putting the view
	// into the circle's equation; S. J. Ahn, H.-J. Warnecke, R. Kotowski,
	// Photogrammetric Record 16(93) (1999) 485 give it for any position.
	h := tilted(3000, 200, math.Asin(0.6))
	cases := []struct{ r, y, semiX, semiY, plane float64 }{
		{5, -36000. / 39991, 15000 / math.Sqrt(39991), 2400000. / 39991, -3. / 40},
		{10, -36000. / 9991, 30000 / math.Sqrt(39964), 1200000. / 9991, -3. / 10},
		{15, -324000. / 39919, 45000 / math.Sqrt(39919), 7200000. / 39919, -27. / 40},
		{20, -36000. / 2491, 60000 / math.Sqrt(39856), 600000. / 2491, -6. / 5},
	}
	back, err := h.Inverse()
	require.NoError(t, err)
	for _, c := range cases {
		e, err := CircleConic(h, c.r).Ellipse()
		require.NoError(t, err)
		assertEllipse(t, Ellipse{0, c.y, c.semiX, c.semiY, 0}, e, 1e-7)
		assert.InDelta(t, c.plane, back.Apply(e.Centre()).Y, rounding)
		assert.InDelta(t, 0, h.Centre().Y, rounding)
	}
	for degrees, y := range map[float64]float64{15: -7.505027415, 30: -13.022938403, 45: -15.075376884} {
		e, err := CircleConic(tilted(3000, 200, degrees*math.Pi/180), 20).Ellipse()
		require.NoError(t, err)
		assert.InDelta(t, y, e.Y, 1e-8)
	}
}

// 2b: in the plane the middle lies r² sin(tau)/depth from the centre, whatever
// the position and focal length.
func TestMiddleOfTheImageInThePlane(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		pose := Pose{unit([3]float64{rng.NormFloat64(), rng.NormFloat64(), -2}), [3]float64{30 * rng.NormFloat64(), 30 * rng.NormFloat64(), 150 + 200*rng.Float64()}}
		h := pose.Homography(1000+3000*rng.Float64(), Point{2000 * rng.Float64(), 1500 * rng.Float64()})
		r := 2 + 18*rng.Float64()
		e, err := CircleConic(h, r).Ellipse()
		require.NoError(t, err)
		back, err := h.Inverse()
		require.NoError(t, err)
		m := back.Apply(e.Centre())
		want := r * r * math.Sin(pose.Tilt()) / pose.Centre[2]
		require.InDelta(t, want, math.Hypot(m.X, m.Y), 1e-7)
		// Towards the side nearer to the camera.
		x, y := pose.axes()
		require.LessOrEqual(t, m.X*x[2]+m.Y*y[2], 0.0)
	}
}

// 2f: off-axis view; the numbers were recomputed with numpy.
func TestOffAxisView(t *testing.T) {
	h, _, _ := offAxis()
	const digits = 1e-9 // given to ten decimals
	assert.InDelta(t, 10.4281159926, h[0][0]/h[2][2], digits)
	assert.InDelta(t, -1.9748636499, h[1][0]/h[2][2], digits)
	assert.InDelta(t, -0.0015576470, h[2][1]/h[2][2], digits)
	for in, want := range map[Point]Point{
		{0, 0}:  {2288.7272727273, 1034.7272727273},
		{3, 0}:  {2329.1380693333, 1032.8497799646},
		{0, 3}:  {2285.7823025282, 1070.8671787576},
		{-4, 5}: {2230.0214838447, 1097.3330021394},
	} {
		got := h.Apply(in)
		assert.InDelta(t, want.X, got.X, digits)
		assert.InDelta(t, want.Y, got.Y, digits)
	}
	l := h.Vanishing() // 0.6 x + 0.8 y + 3580.8 = 0
	assert.InDelta(t, 0.6/0.8, l[0]/l[1], digits)
	assert.InDelta(t, 3580.8/0.8, l[2]/l[1], 1e-6)
}

func TestOffAxisCircles(t *testing.T) {
	h, _, _ := offAxis()
	back, err := h.Inverse()
	require.NoError(t, err)
	const pixels = 1e-7
	cases := []struct {
		r, x, y, plane float64
	}{
		{5, 2289.1273891931, 1035.1738815993, 0.050819727},
		{10, 2290.3282348078, 1036.5142620918, 0.203278907},
		{20, 2295.1390728477, 1041.8841059603, 0.813115628},
	}
	for _, c := range cases {
		e, err := CircleConic(h, c.r).Ellipse()
		require.NoError(t, err)
		assert.InDelta(t, c.x, e.X, pixels)
		assert.InDelta(t, c.y, e.Y, pixels)
		m := back.Apply(e.Centre())
		assert.InDelta(t, c.plane, math.Hypot(m.X, m.Y), 1e-9)
	}
	c := CircleConic(h, 20)
	for _, entry := range []struct {
		i, j int
		want float64
	}{{0, 1, .1383724962}, {1, 1, 1.2550609447}, {0, 2, -2439.3071773398}, {1, 2, -1625.2121729389}, {2, 2, 7220384.436134742}} {
		assert.InEpsilon(t, entry.want, c[entry.i][entry.j]/c[0][0], 1e-9)
	}
	// The polar of the true centre is the vanishing line.
	l, want := c.Polar(h.Centre()), h.Vanishing()
	assert.InDelta(t, want[0]/want[2], l[0]/l[2], 1e-11)
	assert.InDelta(t, want[1]/want[2], l[1]/l[2], 1e-11)
}

// 2d: two concentric circles give centre, vanishing line and the ratio of the
// radii without a camera.
func TestConcentricCirclesFindTheCentre(t *testing.T) {
	h, _, _ := offAxis()
	for _, radii := range [][2]float64{{20, 10}, {5, 20}, {6, 8}} {
		p, err := Concentric(CircleConic(h, radii[0]), CircleConic(h, radii[1]))
		require.NoError(t, err)
		assert.InDelta(t, radii[0]/radii[1], p.Ratio, 1e-8)
		assert.InDelta(t, 2288.7272727273, p.Centre.X, 1e-6)
		assert.InDelta(t, 1034.7272727273, p.Centre.Y, 1e-6)
		assert.InDelta(t, 0.6*math.Copysign(1, p.Vanishing[2]), p.Vanishing[0]*3580.8/math.Abs(p.Vanishing[2]), 1e-6)
		assert.InDelta(t, 0.8*math.Copysign(1, p.Vanishing[2]), p.Vanishing[1]*3580.8/math.Abs(p.Vanishing[2]), 1e-6)
		assert.Less(t, p.Split, 1e-8)
	}
}

func TestConcentricCirclesSeenSquarely(t *testing.T) {
	p, err := Concentric(Ellipse{100, 200, 50, 50, 0}.Conic(), Ellipse{100, 200, 30, 30, 0}.Conic())
	require.NoError(t, err)
	assert.InDelta(t, 100, p.Centre.X, rounding)
	assert.InDelta(t, 5./3, p.Ratio, rounding)
	// The vanishing line is at infinity: 0 0 1.
	assert.InDelta(t, 0, math.Hypot(p.Vanishing[0], p.Vanishing[1]), rounding)
}

func TestConcentricRefusesOneCircleTwiceAndCrossingOnes(t *testing.T) {
	h, _, _ := offAxis()
	for name, pair := range map[string][2]Conic{
		"same":     {CircleConic(h, 10), CircleConic(h, 10)},
		"crossing": {Ellipse{0, 0, 10, 10, 0}.Conic(), Ellipse{12, 0, 10, 10, 0}.Conic()},
		"apart":    {Ellipse{0, 0, 10, 10, 0}.Conic(), Ellipse{40, 0, 10, 10, 0}.Conic()},
	} {
		_, err := Concentric(pair[0], pair[1])
		assert.ErrorIs(t, err, ErrNotConcentric, name)
	}
	_, err := Concentric(CircleConic(h, 10), Conic{})
	assert.ErrorIs(t, err, ErrNotEllipse)
}

func TestRectifiedPlaneHasTrueLengthsAndGivesTheFocalLength(t *testing.T) {
	h, _, _ := offAxis()
	p, err := Concentric(CircleConic(h, 20), CircleConic(h, 10))
	require.NoError(t, err)
	g, err := Rectify(CircleConic(h, 20), p.Vanishing, 20)
	require.NoError(t, err)
	back, err := g.Inverse()
	require.NoError(t, err)
	for at, want := range map[Point]float64{{3, 0}: 3, {0, 3}: 3, {-4, 5}: math.Sqrt(41)} {
		q := back.Apply(h.Apply(at))
		assert.InDelta(t, want, math.Hypot(q.X, q.Y), 1e-7)
	}
	f, err := g.Focal(offAxisPrincipal)
	require.NoError(t, err)
	assert.InDelta(t, 3000, f, 1e-3)
}

func TestRectifyWhereTheVanishingLinePassesTheImagesOrigin(t *testing.T) {
	// The picture's origin moved onto the vanishing line of a steep view.
	h := tilted(3000, 200, 1)
	l := h.Vanishing() // y = f / tan(tau)
	h = Homography{{1, 0, 0}, {0, 1, l[2] / l[1]}, {0, 0, 1}}.after(h)
	g, err := Rectify(CircleConic(h, 8), h.Vanishing(), 8)
	require.NoError(t, err)
	back, err := g.Inverse()
	require.NoError(t, err)
	q := back.Apply(h.Apply(Point{3, 4}))
	assert.InDelta(t, 5, math.Hypot(q.X, q.Y), 1e-8)

	for name, line := range map[string]Line{"through the centre": {0, 1, -h.Centre().Y}, "none": {}} {
		_, err = Rectify(CircleConic(h, 8), line, 8)
		assert.Error(t, err, name)
	}
	_, err = Rectify(Conic{}, h.Vanishing(), 8)
	assert.ErrorIs(t, err, ErrNotEllipse)
}

func TestFocalLengthDoesNotDependOnTheTurnOfThePlane(t *testing.T) {
	h, _, _ := offAxis()
	for i := range 12 {
		s, c := math.Sincos(float64(i) * math.Pi / 12)
		f, err := h.after(Homography{{c, -s, 0}, {s, c, 0}, {0, 0, 1}}).Focal(offAxisPrincipal)
		require.NoError(t, err)
		assert.InDelta(t, 3000, f, 1e-6)
	}
	_, err := tilted(3000, 200, 0).Focal(Point{})
	assert.ErrorIs(t, err, ErrSquareOn)
}

// 2e, 2f: one circle and a known camera leave two poses.
func TestOneCircleHasTwoPoses(t *testing.T) {
	h, normal, centre := offAxis()
	e, err := CircleConic(h, 20).Ellipse()
	require.NoError(t, err)
	poses, err := CirclePoses(e, 3000, offAxisPrincipal, 20)
	require.NoError(t, err)
	truth, wrong := poses[0], poses[1]
	if dot(truth.Normal, normal) > dot(wrong.Normal, normal) { // they look away from each other
		truth, wrong = wrong, truth
	}
	for i := range 3 {
		assert.InDelta(t, -normal[i], truth.Normal[i], 1e-8)
		assert.InDelta(t, centre[i], truth.Centre[i], 1e-5)
	}
	assert.InDelta(t, 26.565051177, truth.Tilt()*180/math.Pi, 1e-6)
	// The false pose, recomputed with numpy; there its normal points away.
	for i, want := range []float64{-0.1141612671, -0.6180654477, 0.7777932292} {
		assert.InDelta(t, -want, wrong.Normal[i], 1e-8)
	}
	at := wrong.Homography(3000, offAxisPrincipal).Centre()
	assert.InDelta(t, 2296.4271711851, at.X, 1e-5)
	assert.InDelta(t, 1055.3161316472, at.Y, 1e-5)
	assert.InDelta(t, 21.98, math.Hypot(at.X-h.Centre().X, at.Y-h.Centre().Y), 5e-3)
}

func TestTwoPosesOnTheOpticalAxis(t *testing.T) {
	// Example 2c: true normal (0, -0.6, 0.8), false (0, 0.5923143029,
	// 0.8057069979) with its centre at y = -28.7195851615 px.
	e, err := CircleConic(tilted(3000, 200, math.Asin(0.6)), 20).Ellipse()
	require.NoError(t, err)
	poses, err := CirclePoses(e, 3000, Point{}, 20)
	require.NoError(t, err)
	truth, wrong := poses[0], poses[1]
	if truth.Normal[1] < 0 {
		truth, wrong = wrong, truth
	}
	assert.InDelta(t, 0.6, truth.Normal[1], 1e-8)
	assert.InDelta(t, -0.8, truth.Normal[2], 1e-8)
	assert.InDelta(t, 200, truth.Centre[2], 1e-6)
	assert.InDelta(t, -0.5923143029, wrong.Normal[1], 1e-8)
	assert.InDelta(t, -0.8057069979, wrong.Normal[2], 1e-8)
	assert.InDelta(t, -28.7195851615, wrong.Homography(3000, Point{}).Centre().Y, 1e-5)
}

func TestBothPosesGiveTheEllipseBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for range 300 {
		principal := Point{2000, 1500}
		a := 50 + 400*rng.Float64()
		want := Ellipse{4000 * rng.Float64(), 3000 * rng.Float64(), a, a * (0.4 + 0.6*rng.Float64()), fold(3 * rng.Float64())}
		poses, err := CirclePoses(want, 2800, principal, 8)
		require.NoError(t, err)
		for _, p := range poses {
			require.InDelta(t, 1, dot(p.Normal, p.Normal), 1e-12)
			require.Negative(t, dot(p.Normal, p.Centre))
			require.Positive(t, p.Centre[2])
			got, err := CircleConic(p.Homography(2800, principal), 8).Ellipse()
			require.NoError(t, err)
			assertEllipse(t, want, Ellipse{got.X, got.Y, got.A, got.B, want.Theta}, 1e-6)
			require.InDelta(t, 0, math.Sin(got.Theta-want.Theta)*(want.A-want.B), 1e-6)
		}
	}
}

func TestPoseFacesTheCameraWithItsTopUp(t *testing.T) {
	h := Pose{[3]float64{0, 0, -1}, [3]float64{0, 0, 100}}.Homography(1000, Point{500, 400})
	assert.Equal(t, Point{510, 400}, h.Apply(Point{1, 0}))
	assert.Equal(t, Point{500, 390}, h.Apply(Point{0, 1})) // up the picture, where y falls
}

func TestPosesOfACircleSeenSquarelyAreOne(t *testing.T) {
	poses, err := CirclePoses(Ellipse{500, 400, 40, 40, 0}, 1000, Point{500, 400}, 8)
	require.NoError(t, err)
	for _, p := range poses {
		assert.InDelta(t, 200, p.Centre[2], 1e-9)
		assert.InDelta(t, 0, p.Tilt(), 1e-7)
	}
	for _, bad := range []Ellipse{{}, {500, 400, math.NaN(), 1, 0}} {
		_, err := CirclePoses(bad, 1000, Point{}, 8)
		assert.ErrorIs(t, err, ErrNotEllipse)
	}
	_, err = CirclePoses(Ellipse{0, 0, 4, 4, 0}, 0, Point{}, 8)
	assert.ErrorIs(t, err, ErrNotEllipse)
}

func TestInverse(t *testing.T) {
	h, _, _ := offAxis()
	back, err := h.Inverse()
	require.NoError(t, err)
	got := back.Apply(h.Apply(Point{-4, 5}))
	assert.InDelta(t, -4, got.X, 1e-9)
	assert.InDelta(t, 5, got.Y, 1e-9)
	_, err = tilted(3000, 0, math.Pi/2).Inverse() // edge-on: y is always 0
	assert.ErrorIs(t, err, ErrSingular)
	_, err = Homography{}.Inverse()
	assert.ErrorIs(t, err, ErrSingular)
}
