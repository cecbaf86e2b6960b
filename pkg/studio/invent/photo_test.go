package invent

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/studio/darkroom"
	"burngauge.dev/burngauge/pkg/target"
)

// The truth beside a photo against the photo itself: the darkness of the
// developed 8-bit pixels, taken back to the tape's plane pixel by pixel, has
// the burn's first moment. Decoding is the inverse sRGB of IEC 61966-2-1, written here again.
func TestMomentsAgreeWithTheDevelopedPicture(t *testing.T) {
	const tolMM = 0.004 // 8-bit steps and the soot's grain, over about 5000 pixels
	for seed := range uint64(6) {
		d := New(11, seed)
		scene := studio.Scene{Target: target.Spec{Name: "test", RingsMM: []float64{30}, LineMM: 0.3}, Blank: true,
			Look: studio.Look{Paper: studio.Grey(0.8)}, Lights: studio.Lights{Ambient: studio.Grey(1)}}
		scene.Target.TapeMM = 0.13
		burn := d.Burn(d.Between(-3, 3), d.Between(-3, 3), d.Between(2, 4))
		burn.HaloMM, burn.Halo, burn.HaloBias, burn.HaloTo = 0.3, 0.2, 0.8, d.Angle()
		scene.Burns = []studio.Burn{burn}
		cam := studio.Camera{Width: 420, Height: 360, FocalPX: 700, Middle: [2]float64{213, 177}, K1: d.Between(-0.08, 0.08)}
		cam.Aim(studio.Pose{TiltDeg: d.Between(0, 45), TowardDeg: d.Angle(), RollDeg: d.Angle()}, 180, 200, 30)
		v := darkroom.Settings{Exposure: 1, White: [3]float64{1, 1, 1}, BlurPX: 0.8, Mosaic: true, Gamma: 1}
		img := v.Photo(studio.Render(&scene, &cam))
		right, up := planeCentroid(img.Pix, &cam, scene.Target.TapeMM, &burn)
		m := burn.Moments()
		assert.InDelta(t, m.Right, right, tolMM, "seed %d", seed)
		assert.InDelta(t, m.Up, up, tolMM, "seed %d", seed)
	}
}

// planeCentroid weighs each pixel near the burn by its darkness and its area on the plane.
func planeCentroid(pix []byte, cam *studio.Camera, height float64, burn *studio.Burn) (right, up float64) {
	at := func(x, y float64) (float64, float64) { return onPlane(cam, x, y, height) }
	var sum, sumR, sumU float64
	for i := range cam.Width * cam.Height {
		x, y := float64(i%cam.Width), float64(i/cam.Width)
		r, u := at(x, y)
		if math.Hypot(r-burn.Lobes[0].Right, u-burn.Lobes[0].Up) > burn.Reach()+0.5 {
			continue
		}
		r1, u1 := at(x+1, y)
		r2, u2 := at(x, y+1)
		area := math.Abs((r1-r)*(u2-u) - (u1-u)*(r2-r))
		dark := 0.8
		for c, w := range [3]float64{0.2126, 0.7152, 0.0722} {
			dark -= w * linear(pix[4*i+c])
		}
		sum += dark * area
		sumR += dark * area * r
		sumU += dark * area * u
	}
	return sumR / sum, sumU / sum
}

// onPlane is where the line of sight through a pixel meets the plane at a height, mm, worked
// out from the camera's definition and not by its own inverse. The lens, rd = r (1 + k1 r²), is
// undone by fixed-point iteration; then with the pixel's direction q in the camera's frame
// the point p = Rᵗ(s q - T) has p₃ = height for s = (height + (RᵗT)₃) / (Rᵗq)₃.
func onPlane(cam *studio.Camera, x, y, height float64) (right, up float64) {
	xd, yd := (x-cam.Middle[0])/cam.FocalPX, (y-cam.Middle[1])/cam.FocalPX
	nx, ny := xd, yd
	for range 12 { // each brings |k1| r² < 0.02 as much nearer
		k := 1 + cam.K1*(nx*nx+ny*ny)
		nx, ny = xd/k, yd/k
	}
	turned := func(v [3]float64) (p [3]float64) {
		for j := range p {
			p[j] = cam.R[0][j]*v[0] + cam.R[1][j]*v[1] + cam.R[2][j]*v[2]
		}
		return p
	}
	q, t := turned([3]float64{nx, ny, 1}), turned(cam.T)
	s := (height + t[2]) / q[2]
	return s*q[0] - t[0], s*q[1] - t[1]
}

func linear(code byte) float64 {
	v := float64(code) / 255
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}
