package lens

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// askew is a pose with no zero in it: OpenCV's Rodrigues of (0.31, -0.42, 1.05).
// OpenCV's third axis points away from one who faces the target when right and
// up are its first two; the camera here looks at the back, which the pinhole's
// arithmetic does not mind.
func askew() Pose {
	return Pose{
		R: [3][3]float64{
			{0.43054329947749254, -0.8833608434589236, -0.18521902580073396},
			{0.7674123527121405, 0.4662985368314353, -0.4400499465443435},
			{0.4750902526676917, 0.047321187563304, 0.8786637337615268}},
		T: [3]float64{4.5, -3.25, 88},
	}
}

func someCamera(k1 float64) Camera {
	return Camera{Focal: 1850, X: 811.5, Y: 604.25, K1: k1, HalfDiagonal: 1020}
}

// Reference: OpenCV 4.6.0, cv2.projectPoints with rvec (0.31, -0.42, 1.05),
// tvec (4.5, -3.25, 88), f 1850, principal point (811.5, 604.25), no distortion.
func TestPinholeAgreesWithOpenCV(t *testing.T) {
	const tolPX = 1e-9
	for _, c := range []struct{ right, up, x, y float64 }{
		{0, 0, 906.102272727273, 535.926136363636},
		{8, 0, 971.597224821937, 662.476152283389},
		{0, 8, 757.768190240793, 614.305812739763},
		{-12, 10, 599.167212406789, 430.006187495478},
		{20, -25, 1487.490125958295, 612.716155417896},
		{-30, -14, 911.505652956576, -226.032372963417},
	} {
		p := someCamera(0).Project(askew(), c.right, c.up)
		assert.InDelta(t, c.x, p.X, tolPX)
		assert.InDelta(t, c.y, p.Y, tolPX)
	}
}

func TestPlaneUndoesProjectThroughAnyLens(t *testing.T) {
	const tolMM = 1e-9
	for _, k1 := range []float64{-0.1, -0.06, -0.01, 0, 0.03, 0.1} {
		cam := someCamera(k1)
		for _, q := range [][2]float64{{0, 0}, {1e-6, 0}, {4, -3}, {-12, 10}, {-18, -7}, {15, 15}} {
			right, up := cam.Plane(askew(), cam.Project(askew(), q[0], q[1]))
			assert.InDelta(t, q[0], right, tolMM, "k1 = %g", k1)
			assert.InDelta(t, q[1], up, tolMM, "k1 = %g", k1)
		}
	}
}

// The definition of K1: the pixel at d stands for the undistorted one at
// d (1 + K1 (d/h)²).
func TestDistortionFollowsItsDefinition(t *testing.T) {
	const tolPX = 1e-6 // of a place some 600 px out
	for _, k1 := range []float64{-0.1, 0.1} {
		cam, ideal := someCamera(k1), someCamera(0)
		for _, q := range [][2]float64{{8, 0}, {-12, 10}, {20, -25}} {
			seen, straight := cam.Project(askew(), q[0], q[1]), ideal.Project(askew(), q[0], q[1])
			d := math.Hypot(seen.X-cam.X, seen.Y-cam.Y)
			want := math.Hypot(straight.X-cam.X, straight.Y-cam.Y)
			assert.InDelta(t, want, d*(1+k1*(d/cam.HalfDiagonal)*(d/cam.HalfDiagonal)), tolPX)
		}
	}
}

func TestPlaceBehindTheCameraIsNaN(t *testing.T) {
	p := askew()
	p.T[2] = 5
	assert.True(t, math.IsNaN(someCamera(0).Project(p, -100, 0).X))
}

// tilted is a target seen from distance d, its normal turned by tilt (radians)
// about the picture's x axis.
func tilted(tilt, d float64) Pose {
	return NewPose([3]float64{0, -math.Sin(tilt), -math.Cos(tilt)}, [3]float64{0, 0, d})
}

func TestTiltIsTheAngleToTheLineOfSight(t *testing.T) {
	const tolRad = 1e-9
	for _, deg := range []float64{1, 20, 45, 70} {
		assert.InDelta(t, deg*math.Pi/180, tilted(deg*math.Pi/180, 200).Tilt(), tolRad)
	}
	// Squarely before the camera, but seen 45 degrees off its axis.
	aside := NewPose([3]float64{0, 0, -1}, [3]float64{200, 0, 200})
	assert.InDelta(t, math.Pi/4, aside.Tilt(), tolRad)
}

// Facing the target the photo's up is its up: the camera's y points down.
func TestPosedPutsUpAtThePicturesTop(t *testing.T) {
	cam := Camera{Focal: 1000}
	p := tilted(0.4, 100)
	top, right := cam.Project(p, 0, 5), cam.Project(p, 5, 0)
	assert.Negative(t, top.Y)
	assert.InDelta(t, 0, top.X, 1e-9)
	assert.Positive(t, right.X)
}

// A quarter turn counter-clockwise brings the new right to where up was.
func TestTurnedIsCounterClockwise(t *testing.T) {
	cam := Camera{Focal: 1000}
	p := tilted(0.3, 100)
	turned := p.Turned(math.Pi / 2)
	a, b := cam.Project(turned, 3, 0), cam.Project(p, 0, 3)
	assert.InDelta(t, b.X, a.X, 1e-9)
	assert.InDelta(t, b.Y, a.Y, 1e-9)
}

// What is k times as large and k times as far looks the same.
func TestScaledKeepsThePicture(t *testing.T) {
	cam := someCamera(0.04)
	a, b := cam.Project(askew(), 3, -2), cam.Project(askew().Scaled(2.5), 7.5, -5)
	assert.InDelta(t, a.X, b.X, 1e-9)
	assert.InDelta(t, a.Y, b.Y, 1e-9)
}

// Turning about the target's own normal by w is Turned by w.
func TestRotatedAboutTheNormalIsTurned(t *testing.T) {
	a, b := askew().Rotated([3]float64{0, 0, 0.7}), askew().Turned(0.7)
	for i := range 3 {
		for j := range 3 {
			assert.InDelta(t, b.R[i][j], a.R[i][j], 1e-12)
		}
	}
}
