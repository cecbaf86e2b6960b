package rehearsal

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stage is a step of the development.
type stage func(width, height int, of rows) rows

// through is a picture after one step.
func through(p *Picture, do stage) *Picture {
	out := NewPicture(p.Width, p.Height)
	row := do(p.Width, p.Height, p.rows())
	for y := range p.Height {
		out.put(y, row(y))
	}
	return out
}

func shaken(length, deg float64) stage {
	return func(width, height int, of rows) rows { return shake(width, height, length, deg, of) }
}

func defocused(radius float64) stage {
	return func(width, height int, of rows) rows { return discBlur(width, height, radius, of) }
}

func softened(sigma float64) stage {
	return func(width, height int, of rows) rows {
		b, out := newBlur(width, height, sigma, of), newLine(width)
		return func(y int) line {
			for c := range out {
				b.row(out[c], y, c)
			}
			return out
		}
	}
}

// onSensor is the step from light to what the sensor makes of it.
func (d *Develop) onSensor(width, height int, of rows) rows {
	f := film{Develop: d, width: width, height: height}
	return f.exposed(of).row
}

// spread is the variance of a picture's light along a direction and across it, px².
func spread(p *Picture, deg float64) (along, across float64) {
	c, s := cosSin(deg)
	middle, sum := float64(p.Width/2), 0.0
	for i := range p.Width * p.Height {
		w := float64(p.Pix[3*i])
		u, v := turned(float64(i%p.Width)-middle, float64(i/p.Width)-middle, c, s)
		sum, along, across = sum+w, along+w*u*u, across+w*v*v
	}
	return along / sum, across / sum
}

// A point of light after each blur has the variance of what it was smeared over, by hand:
// length²/12 · (n+1)/(n-1) at n even places along a straight path, two a pixel and both
// ends; radius²/4 along any axis of a disc; sigma² of a Gaussian. Looking between pixels
// adds up to 1/4 px², a disc of whole pixels and a Gaussian cut at 3.5 sigma are off by a
// few per cent.
func TestEachBlurSpreadsAPointByItsOwnLaw(t *testing.T) {
	point := func() *Picture {
		p := NewPicture(61, 61)
		for c := range 3 {
			p.Pix[3*(30*61+30)+c] = 1
		}
		return p
	}
	for _, length := range []float64{6, 11} {
		along, across := spread(through(point(), shaken(length, 33)), 33)
		looks := 2*length + 1
		want := length * length / 12 * (looks + 1) / (looks - 1)
		assert.True(t, along >= want && along < want+0.25, "%v, not %v", along, want)
		assert.Less(t, across, 0.3, "nothing is smeared across the path")
	}
	for _, radius := range []float64{3, 5.5} {
		along, across := spread(through(point(), defocused(radius)), 20)
		assert.InDelta(t, 1, along/(radius*radius/4), 0.1)
		assert.InDelta(t, along, across, 1e-6)
	}
	along, across := spread(through(point(), softened(1.7)), 0)
	assert.InDelta(t, 1.7*1.7, along, 0.01*1.7*1.7+0.01)
	assert.InDelta(t, 1.7*1.7, across, 0.01*1.7*1.7+0.01)
}

// A lamp 300 mm above: 400 mm beside it the light comes from 500 mm away at a cosine of
// 3/5, so it is (3/5)·(3/5)² = 0.216 of that below the lamp.
func TestALampsLightFallsWithDistanceAndSlant(t *testing.T) {
	l := Lamp{At: [3]float64{0, 0, 300}, Strength: 0.7}
	assert.InDelta(t, 0.7, l.irradiance(0, 0, 0), 1e-12)
	assert.InDelta(t, 0.216*0.7, l.irradiance(400, 0, 0), 1e-12)
	assert.InDelta(t, 0.216*0.7, l.irradiance(0, -400, 0), 1e-12)
}

// The corners of an even picture lose the share of light that is asked for, its middle
// none, and places half way to a corner a quarter of it.
func TestVignettingDarkensTheCorners(t *testing.T) {
	flat := NewPicture(41, 41)
	for i := range flat.Pix {
		flat.Pix[i] = 0.5
	}
	d := Develop{Exposure: 1, White: Grey(1), Vignette: 0.4, Gamma: 1}
	lit := through(flat, d.onSensor)
	at := func(x, y int) float64 { return float64(lit.Pix[3*(y*41+x)]) }
	assert.InDelta(t, 0.5, at(20, 20), 1e-6)
	assert.InDelta(t, 0.5*0.6, at(0, 0), 1e-6)
	assert.InDelta(t, 0.5*0.6, at(40, 0), 1e-6)
	assert.InDelta(t, 0.5*0.9, at(10, 10), 1e-6)
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
	d := NewDice(8, 1)
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
