package studio

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/chance"
)

// A lamp 300 mm above: 400 mm beside it the light comes from 500 mm away at a cosine of
// 3/5, so it is (3/5)·(3/5)² = 0.216 of that below the lamp.
func TestALampsLightFallsWithDistanceAndSlant(t *testing.T) {
	l := Lamp{At: [3]float64{0, 0, 300}, Strength: 0.7}
	assert.InDelta(t, 0.7, l.irradiance(0, 0, 0), 1e-12)
	assert.InDelta(t, 0.216*0.7, l.irradiance(400, 0, 0), 1e-12)
	assert.InDelta(t, 0.216*0.7, l.irradiance(0, -400, 0), 1e-12)
}

// Crepe and fibre are texture round the tape's own colour: smooth film has none, crepe
// some per cent, and its folds lie closer along the tape than across.
func TestTapeHasTheTextureAskedFor(t *testing.T) {
	tape := Tape{WidthMM: 40, Colour: RGB{0.7, 0.6, 0.4}, CrepeMM: 0.4, Seed: 5}
	assert.Equal(t, tape.Colour, tape.over(RGB{}, 1.3, -2.1))
	tape.Crepe, tape.Fibre = 0.06, 0.04
	var mean, square, alongStep, acrossStep float64
	const n = 4000
	for i := range n {
		right, up := math.Mod(float64(i)*0.37, 20)-10, math.Mod(float64(i)*0.61, 20)-10
		v := tape.over(RGB{}, right, up).R / 0.7
		mean, square = mean+v/n, square+v*v/n
		alongStep += math.Abs(tape.over(RGB{}, right+0.2, up).R/0.7-v) / n
		acrossStep += math.Abs(tape.over(RGB{}, right, up+0.2).R/0.7-v) / n
	}
	assert.InDelta(t, 1, mean, 0.01)
	deviation := math.Sqrt(square - mean*mean)
	assert.True(t, deviation > 0.015 && deviation < 0.06, "%v", deviation)
	assert.Greater(t, alongStep, 1.5*acrossStep)
}

// The pointer's dot in the picture: redder than all else, its red light's middle where
// the pointer points.
func TestThePointersDotIsRedAndInItsPlace(t *testing.T) {
	scene := plainScene(0, 0, 0.01)
	scene.Burns = nil
	dark := Render(&scene, dotCamera())
	scene.Pointers = []Pointer{{Right: 2.5, Up: -1.75, LongMM: 0.5, ShortMM: 0.4, Strength: 2}}
	lit := Render(&scene, dotCamera())
	var x, y, red, green float64
	for i := range lit.Width * lit.Height {
		w := float64(lit.Pix[3*i] - dark.Pix[3*i])
		x, y, red = x+w*float64(i%lit.Width), y+w*float64(i/lit.Width), red+w
		green += float64(lit.Pix[3*i+1] - dark.Pix[3*i+1])
	}
	require.Positive(t, red)
	assert.Less(t, green, 0.1*red)
	wantX, wantY := dotCamera().Project(2.5, -1.75, 0)
	assert.InDelta(t, wantX, x/red, 0.05)
	assert.InDelta(t, wantY, y/red, 0.05)
}

func dotCamera() *Camera {
	cam := Camera{Width: 201, Height: 201, FocalPX: 1400, Middle: [2]float64{100, 100}}
	cam.Aim(Pose{}, 100, 100, 100)
	return &cam
}

// Against the library's remainder, everywhere and where it is hard: at and beside whole
// numbers of periods.
func TestCycleIsTheRemainder(t *testing.T) {
	d := chance.New(8, 1)
	for _, period := range []float64{1, math.Sqrt(3), 0.1, 7.3} {
		same := func(x float64) {
			t.Helper()
			require.Equal(t, math.Mod(math.Mod(x, period)+period, period), cycle(x, period), "%v of %v", x, period)
		}
		for range 4000 {
			same(d.Between(-1e4, 1e4))
			whole := period * float64(d.IntN(4000)-2000)
			for _, x := range []float64{whole, math.Nextafter(whole, 1e9), math.Nextafter(whole, -1e9), whole + 1e-17, -whole} {
				same(x)
			}
		}
	}
}
