//go:build cgo && gocv_specific_modules

package conic

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"
)

// TestDirectFitAgreesWithOpenCV: its fit takes and gives whole numbers (truncated),
// so the points are put on a grid 1/1000 of a pixel wide.
func TestDirectFitAgreesWithOpenCV(t *testing.T) {
	const grid = 1000.0
	const tolerance = 4 / grid // two truncations, and float32 inside OpenCV
	for _, want := range []Ellipse{{812.3, 640.7, 300.1, 211.7, 0.4}, {500, 500, 120, 119, 0}, {900, 300, 80, 30, -1.2}, {700.5, 700.25, 250, 200, 1.5}} {
		var whole []image.Point
		var points []Point
		for i := range 300 {
			q := want.At(float64(i) * 5 / 300) // an arc of 5 radians
			p := image.Pt(int(math.Round(q.X*grid)), int(math.Round(q.Y*grid)))
			whole = append(whole, p)
			points = append(points, Point{float64(p.X) / grid, float64(p.Y) / grid})
		}
		vector := gocv.NewPointVectorFromPoints(whole)
		other := gocv.FitEllipse(vector)
		vector.Close()

		e, err := FitDirect(points)
		require.NoError(t, err)
		assert.InDelta(t, float64(other.Center.X)/grid, e.X, tolerance)
		assert.InDelta(t, float64(other.Center.Y)/grid, e.Y, tolerance)
		assert.InDelta(t, float64(max(other.Width, other.Height))/grid, 2*e.A, tolerance)
		assert.InDelta(t, float64(min(other.Width, other.Height))/grid, 2*e.B, tolerance)
		// OpenCV's angle is that of its width, the minor axis, in degrees.
		assert.InDelta(t, 0, math.Sin(other.Angle*math.Pi/180+math.Pi/2-e.Theta)*(e.A-e.B), tolerance)
	}
}
