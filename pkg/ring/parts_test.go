package ring

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/lens"
	"burngauge.dev/burngauge/pkg/target"
)

// held makes the fit take its camera as known, and with it the print.
func held(f *Fit, print bool) {
	f.priors.LogFocalU, f.priors.PrincipalU, f.priors.K1U = 1e-6, 1e-3, 1e-6
	if print {
		set := *f.set
		set.LeastPrintUMM, f.Spec.RingsUMM = 1e-6, 0
		f.WithSettings(set)
	}
}

// knownCamera is a photo of a print drawn at random (or as specified) by the very
// camera that is known.
func knownCamera(rng *rand.Rand, prior truth, print, noise float64) (truth, *Fit) {
	w, f := prior, prior.fit()
	w.print = make([]float64, len(prior.print))
	for i := range w.print {
		w.print[i] = print * f.departureU(firstDeparture+parameter(i)) * rng.NormFloat64()
	}
	f.Pose = w.pose.Rotated([3]float64{0.01, -0.01, 0.005})
	error := func() float64 { return noise * rng.NormFloat64() }
	f.traces = append(w.circles(120, error), w.bar(24, error)...)
	return w, f
}

// JCGM 101: what a part of the uncertainty says is what is left when all other
// sources are taken away. With camera and print as they are known and held there, the
// place that a pixel shows scatters by the edges' share; with the camera held alone
// and prints drawn at random, by edges and print together.
func TestPartsAreTheScatterOfTrialsWithoutTheOtherSources(t *testing.T) {
	const trials, noise, right, up = 240, 0.4, 1.2, 0.8
	const tolShare = 0.15 // the trial's own standard deviation is 1/√(2·240) = 5 %
	prior := exact(target.Default(), lens.Camera{Focal: 3000, X: 2016, Y: 1512, HalfDiagonal: 2520}, tilted(0.5, 110))
	place := prior.camera.Project(prior.pose, right, up)
	rng := rand.New(rand.NewPCG(9, 10))

	var stated [3][2]float64 // edges, print, camera: mm² per axis
	const fits = 8
	for range fits {
		_, f := knownCamera(rng, prior, 1, noise)
		require.NoError(t, f.solve(4))
		require.NoError(t, f.SetCovariance())
		parts := f.Parts(place, 0)
		require.Equal(t, []string{"A", "B", "B"}, []string{parts[0].Evaluation, parts[1].Evaluation, parts[2].Evaluation})
		for i, part := range parts {
			for axis := range 2 {
				stated[i][axis] += part.Covariance[axis][axis] / fits
			}
		}
	}
	for _, c := range []struct {
		name  string
		print float64
		want  [2]float64
	}{
		{"edges alone", 0, stated[0]},
		{"edges and print", 1, [2]float64{stated[0][0] + stated[1][0], stated[0][1] + stated[1][1]}},
	} {
		var scatter [2]float64
		for range trials {
			_, f := knownCamera(rng, prior, c.print, noise)
			held(f, c.print == 0)
			require.NoError(t, f.solve(4))
			x, y := f.At(place, 0)
			scatter[0] += (x - right) * (x - right) / trials
			scatter[1] += (y - up) * (y - up) / trials
		}
		for axis := range 2 {
			ratio := math.Sqrt(c.want[axis] / scatter[axis])
			t.Logf("%s, axis %d: u %.5f mm, stated over scatter %.2f", c.name, axis, math.Sqrt(scatter[axis]), ratio)
			assert.InDelta(t, 1, ratio, tolShare, "%s, axis %d", c.name, axis)
		}
	}
	assert.Greater(t, stated[1][0], stated[0][0], "the print's share must be large enough to be seen")
}

// Of a normal distribution with covariance Σ the first part has, with the others
// held, the covariance Σ₁₁ - Σ₁₂ Σ₂₂⁻¹ Σ₂₁ (M. L. Eaton, Multivariate Statistics,
// 1983, pages 116 and 117). For variances 4 and 9 with the correlation 0.6 the first
// is then 4 (1 - 0.36) = 2.56.
func TestConditionalIsTheSchurComplement(t *testing.T) {
	const tol = 1e-9
	cov := mat.NewSymDense(2, []float64{4, 0.6 * 2 * 3, 0.6 * 2 * 3, 9})
	got := conditional(cov, []parameter{1})
	assert.InDelta(t, 2.56, got.At(0, 0), tol)
	assert.InDelta(t, 0, got.At(0, 1), tol)
	assert.InDelta(t, 0, got.At(1, 1), tol)

	three := mat.NewSymDense(3, []float64{2, 0.3, -0.4, 0.3, 1, 0.2, -0.4, 0.2, 3})
	got = conditional(three, []parameter{2})
	for i := range 2 {
		for j := range 2 {
			want := three.At(i, j) - three.At(i, 2)*three.At(2, j)/three.At(2, 2)
			assert.InDelta(t, want, got.At(i, j), tol)
		}
	}
}

// The standard uncertainty of a mean of n values whose neighbours correlate by r, as
// in an AR(1) process, is for large n that of independent ones times the root of
// (1+r)/(1-r). The process itself is drawn, along one ring, in px.
func TestInflationIsThatOfAnAutoregressiveProcess(t *testing.T) {
	const n, tolShare = 20000, 0.1 // r is known to √((1-r²)/n), the factor to some per cent
	spec := target.Default()
	spec.RingsMM = []float64{12}
	w := exact(spec, lens.Camera{Focal: 3000, HalfDiagonal: 2520}, tilted(0, 110))
	for _, r := range []float64{0, 0.5, 0.8} {
		rng := rand.New(rand.NewPCG(17, 18))
		last := rng.NormFloat64()
		f := w.fit()
		f.Pose = w.pose
		f.traces = w.circles(n, func() float64 {
			last = r*last + math.Sqrt(1-r*r)*rng.NormFloat64()
			return 0.2 * last
		})
		f.weights = make([]float64, n)
		for i := range f.weights {
			f.weights[i] = 1
		}
		assert.InEpsilon(t, (1+r)/(1-r), f.inflation()[group{lineFeature, 0}], tolShare, "r = %g", r)
	}
}

// The information along a curve is divided by its inflation, and stating it leaves
// the fit as it was.
func TestSetCovarianceChangesNoState(t *testing.T) {
	prior := exact(target.Default(), lens.Camera{Focal: 3000, X: 2016, Y: 1512, HalfDiagonal: 2520}, tilted(0.5, 110))
	_, f := drawn(rand.New(rand.NewPCG(9, 10)), prior, 0.4)
	require.NoError(t, f.solve(4))
	before := *f
	spread, scale := map[group]float64{}, append([]float64(nil), f.scale...)
	for g, s := range f.spread {
		spread[g] = s
	}
	require.NoError(t, f.SetCovariance())
	assert.Equal(t, spread, f.spread)
	assert.Equal(t, scale, f.scale)
	assert.Equal(t, before.model, f.model)
}
