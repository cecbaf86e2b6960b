// Package scenes draws photos of a target from a known camera, for the tests of the
// packages that find and fit it. No program imports it.
package scenes

import (
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/studio/darkroom"
	"burngauge.dev/burngauge/pkg/target"
)

// View is how a rendered target is to be seen.
type View struct {
	Spec          target.Spec
	Tilt, Toward  float64 // degrees
	Roll          float64 // degrees, clockwise as seen
	K1            float64 // of the simulated lens, as OpenCV counts it
	Light         bool    // light lines on dark
	Width, Height int     // px, 0: 640 x 480
	PxPerMM       float64 // 0: 14, half of the short side
	AimX, AimY    float64 // of the target's centre from the picture's, px
	Focal35       float64 // mm, 0: as a phone's main lens
	Change        func(s *studio.Scene, d *darkroom.Settings)
}

const mainLens = 26.0 // mm, the focal length on 35 mm film of a phone's main lens

// Take renders and develops the target, and gives the camera as the truth.
func Take(v View) (*photo.Photo, *studio.Camera) {
	if v.Width == 0 {
		v.Width, v.Height = 640, 480
	}
	if v.PxPerMM == 0 {
		v.PxPerMM = 14
	}
	if v.Spec.RingsMM == nil {
		v.Spec = target.Default()
	}
	if v.Focal35 == 0 {
		v.Focal35 = mainLens
	}
	focal := studio.FocalFrom35(v.Focal35, v.Width, v.Height)
	cam := studio.Camera{Width: v.Width, Height: v.Height, FocalPX: focal, K1: v.K1,
		Middle: [2]float64{float64(v.Width-1) / 2, float64(v.Height-1) / 2}}
	cam.Aim(studio.Pose{TiltDeg: v.Tilt, TowardDeg: v.Toward, RollDeg: v.Roll}, cam.Middle[0]+v.AimX, cam.Middle[1]+v.AimY, focal/v.PxPerMM)
	s := studio.Scene{Target: v.Spec, Seed: 5,
		Look:   studio.Look{Paper: studio.Grey(0.6), Ink: studio.Grey(0.05)},
		Lights: studio.Lights{Ambient: studio.Grey(1)},
	}
	if v.Light {
		s.Look.Paper, s.Look.Ink = s.Look.Ink, s.Look.Paper
	}
	develop := darkroom.Default()
	if v.Change != nil {
		v.Change(&s, &develop)
	}
	img := develop.Photo(studio.Render(&s, &cam))
	ph := &photo.Photo{Image: photo.Image{Width: v.Width, Height: v.Height, Pix: make([]byte, 3*v.Width*v.Height)}}
	for k := range v.Width * v.Height {
		ph.Pix[3*k], ph.Pix[3*k+1], ph.Pix[3*k+2] = img.Pix[4*k+2], img.Pix[4*k+1], img.Pix[4*k]
	}
	ph.Facts = photo.Facts{File: "rendered", Width: v.Width, Height: v.Height, Focal35MM: v.Focal35, HasEXIF: true}
	return ph, &cam
}
