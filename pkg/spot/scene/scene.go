// Package scene holds the photographed scenes that the tests of all marks share:
// the default target as pkg/rehearsal draws it, found by pkg/ring.
package scene

import (
	"testing"

	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/target"
)

// PxPerMM is about the scale of the scenes.
const PxPerMM = 20

// Photo is a rendered photo of the default target, tilted a little, with what
// change adds to the scene.
func Photo(change func(s *rehearsal.Scene)) *photo.Photo {
	const width, height = 640, 560
	focal := rehearsal.FocalFrom35(26, width, height)
	cam := rehearsal.Camera{Width: width, Height: height, FocalPX: focal, Middle: [2]float64{(width - 1) / 2.0, (height - 1) / 2.0}}
	cam.Aim(rehearsal.Pose{TiltDeg: 14, TowardDeg: 40, RollDeg: 25}, 318, 281, focal/PxPerMM)
	s := rehearsal.Scene{Target: target.Default(), Seed: 5,
		Look:   rehearsal.Look{Paper: rehearsal.Grey(0.6), Ink: rehearsal.Grey(0.05)},
		Lights: rehearsal.Lights{Ambient: rehearsal.Grey(1)},
		Tapes:  []rehearsal.Tape{{WidthMM: 90, Colour: rehearsal.RGB{R: 0.62, G: 0.55, B: 0.4}, Through: 0.35, Crepe: 0.02, CrepeMM: 0.6, Seed: 4}},
	}
	s.Target.TapeMM = target.Default().TapeMM
	change(&s)
	img := rehearsal.DefaultDevelop().Photo(rehearsal.Render(&s, &cam))
	ph := &photo.Photo{Image: photo.Image{Width: width, Height: height, Pix: make([]byte, 3*width*height)}}
	for k := range width * height {
		ph.Pix[3*k], ph.Pix[3*k+1], ph.Pix[3*k+2] = img.Pix[4*k+2], img.Pix[4*k+1], img.Pix[4*k]
	}
	ph.Facts = photo.Facts{File: "rendered.jpg", Width: width, Height: height, Focal35MM: 26, HasEXIF: true}
	return ph
}

// Fit is the target found in Photo.
func Fit(t testing.TB, change func(s *rehearsal.Scene)) *ring.Fit {
	t.Helper()
	fit, err := ring.Find(Photo(change), target.Default(), ring.Options{})
	require.NoError(t, err)
	return fit
}

// Disc is a plain round burn, mm.
func Disc(right, up, diameter float64) rehearsal.Burn {
	return rehearsal.Burn{Lobes: []rehearsal.Lobe{{Right: right, Up: up, MajorMM: diameter / 2, MinorMM: diameter / 2, EdgeMM: 0.2}}, Strength: 0.97, Seed: 3}
}
