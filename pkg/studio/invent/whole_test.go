package invent

import (
	"image"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/studio/darkroom"
	"burngauge.dev/burngauge/pkg/target"
)

// busy uses every part of the renderer.
func busy(seed uint64) (studio.Scene, studio.Camera, darkroom.Settings) {
	d := New(seed, 1)
	spec := target.Spec{Name: "test", RingsMM: []float64{4, 8}, LineMM: 0.3, CrossMM: 1, Index: target.Index{FromMM: 0.7, ToMM: 3, WidthMM: 1.3}, TapeMM: 0.1}
	cam := studio.Camera{Width: 240, Height: 180, FocalPX: 230, Middle: [2]float64{119, 90}, K1: 0.05}
	cam.Aim(studio.Pose{TiltDeg: 20, RollDeg: 40}, 110, 95, 40)
	s := studio.Scene{Target: spec, Look: d.Look(spec, false), Plate: d.Plate(spec), Background: d.Background(), Lights: d.Lights(0.5), Seed: 3}
	s.Burns = []studio.Burn{d.Burn(1, 1, 3)}
	s.Pointers = []studio.Pointer{d.Pointer(-2, 0)}
	s.Tapes = []studio.Tape{d.Tape(1, 1, 3, 0.3)}
	s.Writings = []studio.Writing{d.Writing(-3, -3, 1, studio.Grey(0.02))}
	s.Clutter = d.Clutter(&s, &cam, 6)
	s.Lights.Shades = []studio.Shade{d.Shade(4)}
	s.Lights.Glares = []studio.Glare{d.Glare(2, 2, 1, 1)}
	v := d.Processing()
	v.Mosaic, v.Sharpen, v.MotionPX, v.DefocusPX = true, 0.5, 2, 1.5
	return s, cam, v
}

func develop(seed uint64) *image.RGBA {
	s, cam, v := busy(seed)
	return v.Photo(studio.Render(&s, &cam))
}

func TestSameSeedSameBytesOnAnyNumberOfProcessors(t *testing.T) {
	before := runtime.GOMAXPROCS(1)
	one := develop(4)
	runtime.GOMAXPROCS(4)
	four := develop(4)
	runtime.GOMAXPROCS(before)
	require.Equal(t, one.Pix, four.Pix)
	assert.NotEqual(t, one.Pix, develop(5).Pix)
}
