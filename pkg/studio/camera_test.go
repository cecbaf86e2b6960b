package studio

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// sample is a camera with a barrel lens, held at a slant.
func sample() Camera {
	c := Camera{Width: 1632, Height: 1224, FocalPX: 1850, Middle: [2]float64{811.5, 604.25}, K1: -0.071, K2: 0.023}
	c.Aim(Pose{TiltDeg: 33, TowardDeg: 70, RollDeg: 25}, 700.25, 540.5, 92)
	return c
}

// Reference: OpenCV 4.6.0, cv2.projectPoints with rvec (0.31, -0.42, 1.05),
// tvec (4.5, -3.25, 88), f 1850, middle (811.5, 604.25), k1 -0.071, k2 0.023;
// the rotation matrix is cv2.Rodrigues of the same rvec.
func TestProjectAgreesWithOpenCV(t *testing.T) {
	c := Camera{FocalPX: 1850, Middle: [2]float64{811.5, 604.25}, K1: -0.071, K2: 0.023,
		R: [3][3]float64{
			{0.43054329947749254, -0.8833608434589236, -0.18521902580073396},
			{0.7674123527121405, 0.4662985368314353, -0.4400499465443435},
			{0.4750902526676917, 0.047321187563304, 0.8786637337615268}},
		T: [3]float64{4.5, -3.25, 88}}
	cases := []struct{ right, up, height, x, y float64 }{
		{0, 0, 0, 906.075581941, 535.945413043},
		{8, 0, 0, 971.501102880, 662.441193458},
		{0, 8, 0, 757.771520186, 614.305189546},
		{-12, 10, 0, 599.497168692, 430.276955104},
		{20, -25, 0, 1481.358177117, 612.639358391},
		{-30, -14, 0, 910.150769155, -214.783647470},
		{3, -2, 0.13, 967.248897511, 564.196521306},
		{5, 5, -6, 884.031362132, 724.705329080},
	}
	const tolPX = 1e-8
	for _, k := range cases {
		x, y := c.Project(k.right, k.up, k.height)
		assert.InDelta(t, k.x, x, tolPX)
		assert.InDelta(t, k.y, y, tolPX)
	}
}

// By hand: a 36.8699 degree tilt about x, 200 mm away;
// the plane's point (0, Y) is seen at y = f·Y·cosτ/(d + Y·sinτ) in an axis-aligned frame.
func TestTiltedPlaneFollowsTheClosedForm(t *testing.T) {
	c := Camera{FocalPX: 3000}
	tilt := math.Asin(0.6)
	c.Aim(Pose{TiltDeg: tilt * 180 / math.Pi}, 0, 0, 200)
	const tolPX = 1e-9
	for _, up := range []float64{-20, -5, 5, 20} {
		x, y := c.Project(0, up, 0)
		// The picture's y runs down: up = -Y. Turning about x by +τ takes the top (negative y) nearer or farther by up·sinτ.
		assert.InDelta(t, 0, x, tolPX)
		assert.InDelta(t, -3000*up*0.8/(200-up*0.6), y, tolPX)
	}
	x, y := c.Project(10, 0, 0)
	assert.InDelta(t, 150, x, tolPX)
	assert.InDelta(t, 0, y, tolPX)
}

func TestViewAngleIsTheTiltOnTheAxis(t *testing.T) {
	c := Camera{FocalPX: 1000}
	c.Aim(Pose{TiltDeg: 40, TowardDeg: 0}, 0, 0, 100)
	assert.InDelta(t, 40, c.ViewDeg(), 1e-9)
	// Seen 45 degrees off the axis without any tilt: the same 45 degrees.
	c.Aim(Pose{}, 1000, 0, 100)
	assert.InDelta(t, 45, c.ViewDeg(), 1e-9)
}

func TestTopOfTheTargetTurnsClockwiseWithRoll(t *testing.T) {
	c := Camera{FocalPX: 1000}
	c.Aim(Pose{RollDeg: 90}, 0, 0, 100)
	x, y := c.Project(0, 10, 0)
	assert.InDelta(t, 100, x, 1e-9)
	assert.InDelta(t, 0, y, 1e-9)
}

func TestUnprojectUndoesProject(t *testing.T) {
	c := sample()
	const tolMM = 1e-7 // the lens table is interpolated: 1e-6 px at 20 px/mm
	for _, height := range []float64{0, 0.13, -4} {
		for _, p := range [][2]float64{{0, 0}, {9, -4}, {-15, 20}, {22, 13}} {
			x, y := c.Project(p[0], p[1], height)
			right, up := c.Unproject(x, y, height)
			assert.InDelta(t, p[0], right, tolMM)
			assert.InDelta(t, p[1], up, tolMM)
		}
	}
}

func TestAimPutsTheOriginWhereAsked(t *testing.T) {
	c := sample()
	x, y := c.Project(0, 0, 0)
	assert.InDelta(t, 700.25, x, 1e-9)
	assert.InDelta(t, 540.5, y, 1e-9)
}

// 24, 26 and 28 mm by hand: f_px = f35·diagonal/43.2666 (CIPA DCG-001 takes the diagonal).
func TestFocalFrom35ByTheDiagonal(t *testing.T) {
	assert.InDelta(t, 3028.6631, FocalFrom35(26, 4032, 3024), 1e-4)
	assert.InDelta(t, 2773.5010, FocalFrom35(24, 4000, 3000), 1e-4)
	assert.InDelta(t, 4666.6667, FocalFrom35(28, 6000, 4000), 1e-4)
}
