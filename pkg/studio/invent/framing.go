package invent

import (
	"math"

	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/target"
)

// Framing says how a photo is taken; Dice.Camera turns it into a camera.
type Framing struct {
	Megapixels float64
	Aspect     float64 // long side over short side
	Portrait   bool
	Fraction   float64 // outer ring's diameter over the short side
	Pose       studio.Pose
	Focal35    float64 // mm
	K1, K2     float64
	OffCentre  float64 // 0: target in the middle, 1: anywhere it still fits
}

// nearest is how close, mm, a phone is brought to the target at most.
const nearest = 48

// Camera places a camera so that rings and index bar are in the picture with a
// little room. It returns false when the framing cannot hold them.
func (d Draws) Camera(f Framing, spec target.Spec) (studio.Camera, bool) {
	short := math.Sqrt(f.Megapixels * 1e6 / f.Aspect)
	w, h := int(short*f.Aspect+0.5)&^1, int(short+0.5)&^1
	if f.Portrait {
		w, h = h, w
	}
	cam := studio.Camera{Width: w, Height: h, FocalPX: studio.FocalFrom35(f.Focal35, w, h), K1: f.K1, K2: f.K2}
	cam.Middle = [2]float64{float64(w-1)/2 + d.Between(-0.008, 0.008)*short, float64(h-1)/2 + d.Between(-0.008, 0.008)*short}
	distance := max(2*spec.OuterRadius()*cam.FocalPX/(f.Fraction*short), nearest)
	for range 60 {
		x := float64(w-1)/2 + f.OffCentre*d.Between(-0.5, 0.5)*float64(w)
		y := float64(h-1)/2 + f.OffCentre*d.Between(-0.5, 0.5)*float64(h)
		cam.Aim(f.Pose, x, y, distance)
		if cam.Holds(spec, 0.015*short) {
			return cam, true
		}
	}
	return cam, false
}
