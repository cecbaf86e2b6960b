package invent

import (
	"math"

	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/target"
)

// Framing says how a photo is taken; Draws.Camera turns it into a camera.
type Framing struct {
	Megapixels float64 // millions of pixels
	Aspect     float64 // long side over short side
	Portrait   bool    // the long side stands upright
	Fraction   float64 // outer ring's diameter over the short side
	Pose       studio.Pose
	Focal35    float64 // 35 mm equivalent focal length, mm
	K1, K2     float64 // radial distortion, as in studio.Camera
	OffCentre  float64 // 0: target in the middle, 1: anywhere it still fits
}

// How a camera is placed (common practice, no source).
const (
	nearestMM  = 48    // mm, how close a phone is brought to the target at most: nearer it does not focus
	middleOff  = 0.008 // principal point off the picture's middle, either way, as a share of the short side
	borderRoom = 0.015 // free rim of the picture round rings and index bar, as a share of the short side
	placings   = 60    // places in the picture that are tried before a framing is given up
)

// Camera places a camera so that rings and index bar are in the picture with a
// little room. It returns false when the framing cannot hold them.
//
// The distance Z follows from the scale: the outer ring, 2R mm across, is seen
// 2R f/Z px wide, which is to be Fraction times the short side.
func (d Draws) Camera(f Framing, spec target.Spec) (studio.Camera, bool) {
	short := math.Sqrt(f.Megapixels * 1e6 / f.Aspect)
	w, h := int(short*f.Aspect+0.5)&^1, int(short+0.5)&^1 // rounded, then even: as sensors have it
	if f.Portrait {
		w, h = h, w
	}
	cam := studio.Camera{Width: w, Height: h, FocalPX: studio.FocalFrom35(f.Focal35, w, h), K1: f.K1, K2: f.K2}
	cam.Middle = [2]float64{float64(w-1)/2 + d.Between(-middleOff, middleOff)*short, float64(h-1)/2 + d.Between(-middleOff, middleOff)*short}
	distance := max(2*spec.OuterRadius()*cam.FocalPX/(f.Fraction*short), nearestMM)
	for range placings {
		x := float64(w-1)/2 + f.OffCentre*d.Between(-0.5, 0.5)*float64(w)
		y := float64(h-1)/2 + f.OffCentre*d.Between(-0.5, 0.5)*float64(h)
		cam.Aim(f.Pose, x, y, distance)
		if cam.Holds(spec, borderRoom*short) {
			return cam, true
		}
	}
	return cam, false
}
