// Package scene holds the photographed scenes that the tests of all marks share:
// the default target as pkg/studio draws it, found by pkg/locate.
package scene

import (
	"testing"

	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/locate"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/ring"
	"burngauge.dev/burngauge/pkg/ring/scenes"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/studio/darkroom"
	"burngauge.dev/burngauge/pkg/target"
)

// PxPerMM is about the scale of the scenes.
const PxPerMM = 20

// Photo is a rendered photo of the default target, tilted a little, with what
// change adds to the scene.
func Photo(change func(s *studio.Scene)) *photo.Photo {
	ph, _ := scenes.Take(scenes.View{
		Width: 640, Height: 560, PxPerMM: PxPerMM, Tilt: 14, Toward: 40, Roll: 25, AimX: -1.5, AimY: 1.5,
		Change: func(s *studio.Scene, _ *darkroom.Settings) {
			s.Tapes = []studio.Tape{{WidthMM: 90, Colour: studio.RGB{R: 0.62, G: 0.55, B: 0.4}, Through: 0.35, Crepe: 0.02, CrepeMM: 0.6, Seed: 4}}
			change(s)
		},
	})
	return ph
}

// Fit is the target found in Photo.
func Fit(t testing.TB, change func(s *studio.Scene)) *ring.Fit {
	t.Helper()
	fit, sighting := locate.Target(Photo(change), target.Default(), locate.Options{})
	require.NotNil(t, fit, "failure %d", sighting.Failure)
	return fit
}

// Disc is a plain round burn, mm.
func Disc(right, up, diameter float64) studio.Burn {
	return studio.Burn{Lobes: []studio.Lobe{{Right: right, Up: up, MajorMM: diameter / 2, MinorMM: diameter / 2, EdgeMM: 0.2}}, Strength: 0.97, Seed: 3}
}
