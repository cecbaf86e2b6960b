package studio

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/studio/raster"
	"burngauge.dev/burngauge/pkg/target"
)

// Smooth cells are a short cut: pixel by pixel the same light comes out, to the last bit.
func TestSmoothCellsAreThoseThatNeedNoMoreLooks(t *testing.T) {
	scene, cam := tapedScene()
	for _, odd := range []int{0, 1} {
		cam.Width, cam.Height = cam.Width|odd, cam.Height|odd
		r := newQuickRenderer(&scene, &cam)
		require.True(t, r.sparse)
		quick, slow, want, smooth := newCells(r), newCells(r), raster.NewLine(r.width), 0
		for y := range r.height {
			got := quick.row(y)
			if y&1 == 0 {
				slow.descend(y)
			}
			for x := range r.width {
				r.pixel(want, x, y, [4]*RGB{slow.corner(x, y), slow.corner(x+1, y), slow.corner(x, y+1), slow.corner(x+1, y+1)})
				if x+2 <= r.width && x&1 == 0 && quick.smooth(x) {
					smooth++
				}
			}
			require.Equal(t, want, got, "row %d", y)
		}
		assert.Greater(t, smooth, r.width*r.height/8, "else nothing is short")
	}
}

// tapedScene is rings on a round plate over wood, a burn on tape, and a camera so near
// that looking at every other corner is enough.
func tapedScene() (Scene, Camera) {
	spec := target.Spec{Name: "test", RingsMM: []float64{4, 8, 12}, LineMM: 0.3, CrossMM: 1, Index: target.Index{FromMM: 0.7, ToMM: 3, WidthMM: 1.3}, TapeMM: 0.1}
	scene := Scene{Target: spec, Seed: 3, Look: Look{Paper: Grey(0.8), Ink: Grey(0.05), Mottle: 0.2, Grain: 0.02, GrainMM: 1},
		Plate:      Plate{Shape: PlateDisc, WidthMM: 24, ThickMM: 3, BevelMM: 0.4, Bevel: -0.2},
		Background: Background{Kind: BackWood, Colour: RGB{0.48, 0.3, 0.16}, Second: RGB{0.22, 0.11, 0.05}, PitchMM: 5, Contrast: 0.3},
		Tapes:      []Tape{{WidthMM: 10, Deg: 30, Colour: RGB{0.72, 0.6, 0.4}, Crepe: 0.05, CrepeMM: 0.4, Fibre: 0.03, Through: 0.3, EdgeDark: 0.2}},
		Burns:      []Burn{{Lobes: []Lobe{{Right: 1, Up: -0.5, MajorMM: 1.6, MinorMM: 1.4, EdgeMM: 0.4}}, Strength: 0.95, HaloMM: 0.2, Halo: 0.2}},
		Lights:     Lights{Ambient: Grey(0.4), Lamps: []Lamp{{At: [3]float64{80, 120, 300}, Colour: Grey(1), Strength: 0.5}}}}
	cam := Camera{Width: 640, Height: 480, FocalPX: 1600, Middle: [2]float64{319.5, 239.5}, K1: 0.02}
	cam.Aim(Pose{TiltDeg: 15, TowardDeg: 40, RollDeg: 20}, 310, 250, 90)
	return scene, cam
}
