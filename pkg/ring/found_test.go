package ring

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/lens"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/ring/scenes"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/target"
)

// tilted is a target seen from distance d (mm), its normal turned by tilt
// (radians) about the picture's x axis.
func tilted(tilt, d float64) lens.Pose {
	return lens.NewPose([3]float64{0, -math.Sin(tilt), -math.Cos(tilt)}, [3]float64{0, 0, d})
}

// begun is a fit of a rendered target, not traced yet, begun where the simulated
// camera shows its outer ring; and the photo.
func begun(t *testing.T, v scenes.View) (*Fit, *studio.Camera, photo.Image) {
	t.Helper()
	ph, cam := scenes.Take(v)
	spec := v.Spec
	if spec.RingsMM == nil {
		spec = target.Default()
	}
	focal, _ := ph.FocalPx()
	priors := lens.NewPriors(lens.Picture{Width: ph.Image.Width, Height: ph.Image.Height, FocalPx: focal})
	return Start(spec, priors, nearestPose(t, spec, priors.Camera, cam), -1), cam, ph.Image
}

// found is the finished fit of a rendered target.
func found(t *testing.T, v scenes.View) (*Fit, *studio.Camera) {
	t.Helper()
	return foundWith(t, v, nil)
}

// foundWith is the same with its decisions recorded.
func foundWith(t *testing.T, v scenes.View, log *decision.Log) (*Fit, *studio.Camera) {
	t.Helper()
	f, cam, image := begun(t, v)
	f.Log = log
	f.Cut(image)
	require.NoError(t, f.Refine())
	index := f.FindIndex(FineAngles)
	require.True(t, index.Clear())
	f = f.WithIndex(index)
	require.True(t, f.Indexed)
	f = f.BetterTilt().FreeCamera()
	require.NoError(t, f.SetCovariance())
	return f, cam
}

// nearestPose is the pose, of the two in which a known camera may see the outer
// ring, that shows the centre nearest to where the simulated one does.
func nearestPose(t *testing.T, spec target.Spec, known lens.Camera, cam *studio.Camera) lens.Pose {
	t.Helper()
	points := make([]conic.Point, 60)
	for i := range points {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 60)
		points[i].X, points[i].Y = cam.Project(spec.OuterRadius()*c, spec.OuterRadius()*s, 0)
	}
	el, err := conic.FitDirect(points)
	require.NoError(t, err)
	poses, err := conic.CirclePoses(el, known.Focal, conic.Point{X: known.X, Y: known.Y}, spec.OuterRadius())
	require.NoError(t, err)
	x, y := cam.Project(0, 0, 0)
	var best lens.Pose
	nearest := math.Inf(1)
	for _, p := range poses {
		pose := lens.NewPose(p.Normal, p.Centre)
		at := known.Project(pose, 0, 0)
		if d := math.Hypot(at.X-x, at.Y-y); d < nearest {
			best, nearest = pose, d
		}
	}
	return best
}

// shift is how far the fit puts a place of the target, as the camera really
// shows it, from where it is, mm.
func shift(fit *Fit, cam *studio.Camera, right, up float64) float64 {
	x, y := cam.Project(right, up, 0)
	r, u := fit.At(conic.Point{X: x, Y: y}, 0)
	return math.Hypot(r-right, u-up)
}
