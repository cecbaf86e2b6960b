package rehearsal

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The truth beside a photo against the photo itself: the darkness of the
// developed 8-bit pixels, taken back to the tape's plane pixel by pixel, has
// the burn's first moment. Decoding is the inverse sRGB of IEC 61966-2-1, written here again.
func TestMomentsAgreeWithTheDevelopedPicture(t *testing.T) {
	const tolMM = 0.004 // 8-bit steps and the soot's grain, over about 5000 pixels
	for seed := range uint64(6) {
		d := NewDice(11, seed)
		scene := plainScene(0, 0, 1)
		scene.Target.TapeMM = 0.13
		burn := d.Burn(d.Between(-3, 3), d.Between(-3, 3), d.Between(2, 4))
		burn.HaloMM, burn.Halo, burn.HaloBias, burn.HaloTo = 0.3, 0.2, 0.8, d.Angle()
		scene.Burns = []Burn{burn}
		cam := Camera{Width: 420, Height: 360, FocalPX: 700, Middle: [2]float64{213, 177}, K1: d.Between(-0.08, 0.08)}
		cam.Aim(Pose{TiltDeg: d.Between(0, 45), TowardDeg: d.Angle(), RollDeg: d.Angle()}, 180, 200, 30)
		v := Develop{Exposure: 1, White: Grey(1), BlurPX: 0.8, Mosaic: true, Gamma: 1}
		img := v.Photo(Render(&scene, &cam))
		right, up := planeCentroid(img.Pix, &cam, scene.Target.TapeMM, &burn)
		m := burn.Moments()
		assert.InDelta(t, m.Right, right, tolMM, "seed %d", seed)
		assert.InDelta(t, m.Up, up, tolMM, "seed %d", seed)
	}
}

// planeCentroid weighs each pixel near the burn by its darkness and its area on the plane.
func planeCentroid(pix []byte, cam *Camera, height float64, burn *Burn) (right, up float64) {
	view := newView(cam)
	at := func(x, y float64) (float64, float64) { return view.at(x, y).meet(height) }
	var sum, sumR, sumU float64
	for i := range cam.Width * cam.Height {
		x, y := float64(i%cam.Width), float64(i/cam.Width)
		r, u := at(x, y)
		if math.Hypot(r-burn.Lobes[0].Right, u-burn.Lobes[0].Up) > burn.reach()+0.5 {
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

func linear(code byte) float64 {
	v := float64(code) / 255
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}
