package ring

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/lens"
	"burngauge.dev/burngauge/pkg/ring/scenes"
	"burngauge.dev/burngauge/pkg/target"
)

// truth is a camera, a pose and a print that edge points are made from.
type truth struct {
	spec   target.Spec
	camera lens.Camera
	pose   lens.Pose
	print  []float64 // its departures, as a model counts them
}

// fit starts at the truth, moved a little, with nothing traced yet.
func (w truth) fit() *Fit {
	priors := lens.Priors{Camera: w.camera, LogFocalU: 0.05, PrincipalU: 50, K1U: 0.03}
	f := Start(w.spec, priors, w.pose.Rotated([3]float64{0.06, -0.05, 0.04}), -1)
	f.Pose.T[0] += 0.4
	f.Pose.T[1] -= 0.3
	f.Pose.T[2] *= 1.03
	return f
}

// circles are edge points exactly on the rings' circles, n on each, moved
// across by noise (px).
func (w truth) circles(n int, noise func() float64) []trace {
	scale := w.camera.Focal / w.pose.T[2]
	var out []trace
	for k, d := range w.spec.RingsMM {
		for i := range n {
			angle := 2 * math.Pi * float64(i) / float64(n)
			s, c := math.Sincos(angle)
			r := d/2 + w.print[k] + noise()/scale
			out = append(out, trace{px: w.camera.Project(w.pose, r*c, r*s), kind: lineFeature, which: k, angle: angle, pxPerMM: scale})
		}
	}
	return out
}

// bar are edge points on the index bar's four sides: the bar of the spec,
// moved, turned and sized as off says.
func (w truth) bar(n int, noise func() float64) []trace {
	scale := w.camera.Focal / w.pose.T[2]
	index, bar := w.spec.Index, w.print[len(w.spec.RingsMM)+1:]
	length, middle := index.ToMM-index.FromMM, w.spec.OuterRadius()+(index.FromMM+index.ToMM)/2
	a, b := index.WidthMM/2+bar[barHalfWidth], length/2+bar[barHalfLength]
	var out []trace
	for side := range barSides {
		for i := range n {
			t, e := 0.8*(2*float64(i)/float64(n-1)-1), noise()/scale
			x, y := [4]float64{-a - e, a + e, t * a, t * a}[side], [4]float64{t * b, t * b, -b - e, b + e}[side]
			// The bar's own axes are turned against the target's.
			turn := bar[barTurn]
			norm := 1 + turn*turn
			u, v := (x-turn*y)/norm+bar[barRight], (y+turn*x)/norm+bar[barUp]+middle
			out = append(out, trace{px: w.camera.Project(w.pose, u, v), kind: indexFeature, which: int(side), pxPerMM: scale})
		}
	}
	return out
}

func none() float64 { return 0 }

// exact is a truth without print errors.
func exact(spec target.Spec, camera lens.Camera, pose lens.Pose) truth {
	return truth{spec, camera, pose, make([]float64, layout{len(spec.RingsMM)}.departures())}
}

// Three circles of radius 5, 10 and 20 mm.
func threeCircles() target.Spec {
	s := target.Default()
	s.RingsMM = []float64{10, 20, 40}
	return s
}

// S. J. Ahn, H.-J. Warnecke, R. Kotowski, Photogrammetric Record 16 (1999) 485:
// a circle of radius r, d away on the axis, tilted by t about x, is seen as an
// ellipse whose centre lies f r² sin t cos t / (d² - r² sin² t) off the place
// where the circle's centre is seen. For f = 3000 px, d = 200 mm, r = 20 mm:
// 7.505027415, 13.022938403, 14.452027298 (sin t = 3/5) and 15.075376884 px.
// The fit must give the centre, not the ellipse's.
func TestFitGivesTheCirclesCentreNotTheEllipses(t *testing.T) {
	const tolPX, tolMM = 1e-3, 1e-5
	for _, c := range []struct{ tilt, bias float64 }{
		{math.Pi / 12, 7.505027415}, {math.Pi / 6, 13.022938403}, {math.Asin(0.6), 14.452027298}, {math.Pi / 4, 15.075376884},
	} {
		w := exact(threeCircles(), lens.Camera{Focal: 3000, HalfDiagonal: 2520}, tilted(c.tilt, 200))
		f := w.fit()
		f.traces = w.circles(120, none)
		outer := make([]conic.Point, 0, 120)
		for _, p := range f.traces[240:] {
			outer = append(outer, p.px)
		}
		el, err := conic.FitDirect(outer)
		require.NoError(t, err)
		require.InDelta(t, c.bias, math.Abs(el.Y), tolPX, "the ellipse itself")

		require.NoError(t, f.solve(10))
		centre := f.Pixel(0, 0)
		assert.InDelta(t, 0, centre.X, tolPX)
		assert.InDelta(t, 0, centre.Y, tolPX)
		assert.InDelta(t, c.tilt, f.Pose.Tilt(), 1e-6)
		right, up := f.At(conic.Point{}, 0)
		assert.InDelta(t, 0, math.Hypot(right, up), tolMM)
	}
}

// An off-axis case, recomputed with numpy from H = K [u v t]: f = 3000,
// principal point (2016, 1512), normal along (0.3, 0.4, 1), centre at
// (20, -35, 220) mm, u = (0, 1, 0) x n. The centre is seen at
// (2288.7272727273, 1034.7272727273), the ellipse of r = 20 mm has its own at
// (2295.1390728477, 1041.8841059603); (3, 0) is seen at (2329.1380693333,
// 1032.8497799646) and lies 3 mm from the centre.
func TestFitGivesTheCentreOffTheAxis(t *testing.T) {
	const tolPX, tolMM = 1e-3, 1e-5
	n := math.Sqrt(0.09 + 0.16 + 1)
	normal := [3]float64{0.3 / n, 0.4 / n, 1 / n}
	long := math.Hypot(normal[0], normal[2])
	u := [3]float64{normal[2] / long, 0, -normal[0] / long}
	v := [3]float64{normal[1] * u[2], normal[2]*u[0] - normal[0]*u[2], -normal[1] * u[0]}
	pose := lens.Pose{T: [3]float64{20, -35, 220}}
	for i := range 3 { // the example's normal points away from the camera, and so does its v from our up
		pose.R[i] = [3]float64{u[i], -v[i], -normal[i]}
	}
	w := exact(threeCircles(), lens.Camera{Focal: 3000, X: 2016, Y: 1512, HalfDiagonal: 2520}, pose)
	f := w.fit()
	f.traces = w.circles(120, none)
	require.NoError(t, f.solve(10))
	centre := f.Pixel(0, 0)
	assert.InDelta(t, 2288.7272727273, centre.X, tolPX)
	assert.InDelta(t, 1034.7272727273, centre.Y, tolPX)
	for _, c := range []struct{ x, y, from float64 }{
		{2288.7272727273, 1034.7272727273, 0},
		{2329.1380693333, 1032.8497799646, 3},
		{2285.7823025282, 1070.8671787576, 3},
		{2230.0214838447, 1097.3330021394, math.Sqrt(41)},
	} {
		right, up := f.At(conic.Point{X: c.x, Y: c.y}, 0)
		assert.InDelta(t, c.from, math.Hypot(right, up), tolMM)
	}
}

// The same through lenses that bend: the fit finds the distortion itself.
func TestFitFindsTheLensFromTheRings(t *testing.T) {
	const tolMM = 0.005
	for _, k1 := range []float64{-0.06, 0.06} {
		w := exact(target.Default(), lens.Camera{Focal: 3000, X: 2016, Y: 1512, K1: k1, HalfDiagonal: 2520}, tilted(0.5, 120))
		w.pose.T[0], w.pose.T[1] = 30, -20
		f := w.fit()
		f.Camera.K1, f.priors.Camera.K1 = 0, 0
		f.traces = append(w.circles(180, none), w.bar(20, none)...)
		require.NoError(t, f.solve(10))
		right, up := f.At(w.camera.Project(w.pose, 0, 0), 0)
		assert.InDelta(t, 0, math.Hypot(right, up), tolMM)
		right, up = f.At(w.camera.Project(w.pose, 1.5, -2), 0)
		assert.InDelta(t, 1.5, right, tolMM)
		assert.InDelta(t, -2, up, tolMM)
	}
}

// A fifth of the edge points lies far aside, all to one side, as along a shadow:
// the biweight leaves them out.
func TestOutliersDoNotPullTheFit(t *testing.T) {
	const tolMM = 2e-3
	w := exact(target.Default(), lens.Camera{Focal: 3000, X: 2016, Y: 1512, HalfDiagonal: 2520}, tilted(0.5, 120))
	f := w.fit()
	f.traces = append(w.circles(180, none), w.bar(20, none)...)
	rng := rand.New(rand.NewPCG(5, 6))
	for i := range f.traces {
		f.traces[i].px.X += 0.1 * rng.NormFloat64()
		f.traces[i].px.Y += 0.1 * rng.NormFloat64()
		if i%5 == 0 {
			f.traces[i].px.X += 3 + 5*rng.Float64()
		}
	}
	require.NoError(t, f.solve(8))
	right, up := f.At(w.camera.Project(w.pose, 0, 0), 0)
	assert.InDelta(t, 0, math.Hypot(right, up), tolMM)
}

// drawn is one photo of the Monte Carlo trial: the camera and the print as they
// really are, drawn about what is known of them, edges with noise (px), and the
// fit that knows only the priors.
func drawn(rng *rand.Rand, prior truth, noise float64) (truth, *Fit) {
	f := prior.fit()
	w := prior
	w.camera.Focal *= math.Exp(f.priors.LogFocalU * rng.NormFloat64())
	w.pose.T[2] *= w.camera.Focal / prior.camera.Focal // the same size in the picture
	w.camera.X += f.priors.PrincipalU * rng.NormFloat64()
	w.camera.Y += f.priors.PrincipalU * rng.NormFloat64()
	w.camera.K1 = f.priors.K1U * rng.NormFloat64()
	w.print = make([]float64, len(prior.print))
	for i := range w.print {
		w.print[i] = f.departureU(firstDeparture+parameter(i)) * rng.NormFloat64()
	}
	f.Camera, f.Pose = w.camera, w.pose.Rotated([3]float64{0.01, -0.01, 0.005}) // finding the way there is not what is tried here
	error := func() float64 { return noise * rng.NormFloat64() }
	f.traces = append(w.circles(120, error), w.bar(24, error)...)
	return w, f
}

// JCGM 101:2008: propagate the distributions of all inputs by drawing them.
// The scatter of the place that the fit gives to a pixel must be what its
// covariance says, within a quarter in each axis's standard uncertainty (the
// trial's own is 1/√(2·240) = 5 %).
func TestCovarianceIsTheScatterOfAMonteCarloTrial(t *testing.T) {
	const trials, noise = 240, 0.4
	const tolShare = 0.25
	for name, tilt := range map[string]float64{"square": 0.15, "tilted": 0.6} {
		rng := rand.New(rand.NewPCG(7, 8))
		prior := exact(target.Default(), lens.Camera{Focal: 3000, X: 2016, Y: 1512, HalfDiagonal: 2520}, tilted(tilt, 110))
		prior.pose.T[0], prior.pose.T[1] = 12, -9
		var scatter, stated [2]float64
		for range trials {
			w, f := drawn(rng, prior, noise)
			require.NoError(t, f.solve(4))
			require.NoError(t, f.SetCovariance())
			px := w.camera.Project(w.pose, 1.2, 0.8)
			right, up := f.At(px, 0)
			cov := f.Covariance(px, 0)
			scatter[0] += square([]float64{right - 1.2})
			scatter[1] += square([]float64{up - 0.8})
			stated[0] += cov[0][0]
			stated[1] += cov[1][1]
		}
		for axis := range 2 {
			ratio := math.Sqrt(stated[axis] / scatter[axis])
			t.Logf("%s, axis %d: u %.5f mm, stated over scatter %.2f", name, axis, math.Sqrt(scatter[axis]/trials), ratio)
			assert.InDelta(t, 1, ratio, tolShare, "%s, axis %d", name, axis)
		}
	}
}

// Four times as many edge points, each as uncertain: half the standard
// uncertainty from edges (JCGM 100, 4.2.3).
func TestEdgesShareFallsWithTheRootOfTheirNumber(t *testing.T) {
	edges := func(n int) float64 {
		w := exact(target.Default(), lens.Camera{Focal: 3000, X: 2016, Y: 1512, HalfDiagonal: 2520}, tilted(0.3, 110))
		f := w.fit()
		rng := rand.New(rand.NewPCG(11, 12))
		f.traces = w.circles(n, func() float64 { return 0.4 * rng.NormFloat64() })
		f.traces = append(f.traces, w.bar(24, none)...)
		require.NoError(t, f.solve(4))
		require.NoError(t, f.SetCovariance())
		part := f.Parts(f.Pixel(0, 0), 0)[0]
		require.Equal(t, "A", part.Evaluation)
		return math.Sqrt(part.Covariance[0][0] + part.Covariance[1][1])
	}
	assert.InDelta(t, 2, edges(100)/edges(400), 0.4) // the scatter of 400 points is itself known to some per cent
}

// A single ring leaves the tilt, and with it the centre, open; two settle it.
func TestOneRingIsStatedAsFarLessCertain(t *testing.T) {
	radius := func(rings ...float64) float64 {
		spec := target.Default()
		spec.RingsMM = rings
		w := exact(spec, lens.Camera{Focal: 900, X: 600, Y: 450, HalfDiagonal: 750}, tilted(0.5, 45))
		f := w.fit()
		rng := rand.New(rand.NewPCG(13, 14))
		f.traces = w.circles(180, func() float64 { return 0.2 * rng.NormFloat64() })
		require.NoError(t, f.solve(6))
		require.NoError(t, f.SetCovariance())
		cov := f.Covariance(f.Pixel(0, 0), 0)
		return math.Sqrt(cov[0][0] + cov[1][1])
	}
	assert.Greater(t, radius(12), 3*radius(4, 12))
}

// The closed form for a full circle: the centre's standard deviation per axis
// is σ√(2/N) (A. Al-Sharadqah, N. Chernov, Electron. J. Stat. 3 (2009) 886).
// Seen squarely from far away, all else held by the prior, that is what is
// left of one ring.
func TestEdgesShareOfOneCircleIsTheClosedForm(t *testing.T) {
	spec := target.Default()
	spec.RingsMM = []float64{12}
	w := exact(spec, lens.Camera{Focal: 60000, X: 600, Y: 450, HalfDiagonal: 750}, tilted(0.05, 3000))
	f := w.fit()
	f.Pose = w.pose // a tele lens sees no tilt: start where it is
	const n, sigma = 360, 0.3
	rng := rand.New(rand.NewPCG(15, 16))
	f.traces = w.circles(n, func() float64 { return sigma * rng.NormFloat64() })
	require.NoError(t, f.solve(4))
	require.NoError(t, f.SetCovariance())
	cov := f.Parts(f.Pixel(0, 0), 0)[0].Covariance
	want := sigma / 20 * math.Sqrt(2.0/n) // 20 px/mm
	assert.InEpsilon(t, want, math.Sqrt(cov[0][0]), 0.25)
	assert.InEpsilon(t, want, math.Sqrt(cov[1][1]), 0.25)
}

// With the target in the photo's corner, its tilt's mirror image explains the
// rings nearly as well, with a lens bent to suit. The rings' centre is then off
// by part of a tenth of a millimetre, and what stands above the rings, the
// tape's surface and with it the mark, shifts the wrong way. A fit that has
// settled there, against the camera that took the picture.
func TestAFitOfTheMirroredTiltIsFoundOut(t *testing.T) {
	const (
		height = 1.0  // mm
		tol    = 0.05 // mm: 3 degrees of tilt; the mirror image lies 10 to 20 degrees off
	)
	for _, toward := range []float64{0, 120, 240} {
		fit, cam := found(t, scenes.View{Tilt: 3.5, Toward: toward, Roll: 260, Width: 647, Height: 863, PxPerMM: 12, AimX: -180, AimY: -10, Focal35: 50})
		x, y := cam.Project(2, 2.8, height)
		off := func(f *Fit) float64 {
			right, up := f.At(conic.Point{X: x, Y: y}, height)
			return math.Hypot(right-2, up-2.8)
		}
		mirrored := fit.restarts(fit.cameraStrain() > fit.set.MostCameraStrain)[0]
		require.NoError(t, mirrored.solve(5))
		require.Greater(t, off(mirrored), 2*tol, "toward %v: it must settle on the mirror image", toward)
		assert.Less(t, off(mirrored.BetterTilt()), tol, "toward %v", toward)
	}
}
