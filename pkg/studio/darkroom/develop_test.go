package darkroom

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"burngauge.dev/burngauge/pkg/studio/raster"
)

// stage is a step of the development.
type stage func(width, height int, of raster.Rows) raster.Rows

// through is a picture after one step.
func through(p *raster.Picture, do stage) *raster.Picture {
	out := raster.NewPicture(p.Width, p.Height)
	row := do(p.Width, p.Height, p.Rows())
	for y := range p.Height {
		out.Put(y, row(y))
	}
	return out
}

func shaken(length, deg float64) stage {
	return func(width, height int, of raster.Rows) raster.Rows { return shake(width, height, length, deg, of) }
}

func defocused(radius float64) stage {
	return func(width, height int, of raster.Rows) raster.Rows { return discBlur(width, height, radius, of) }
}

func softened(sigma float64) stage {
	return func(width, height int, of raster.Rows) raster.Rows {
		b, out := newBlur(width, height, sigma, of), raster.NewLine(width)
		return func(y int) raster.Line {
			for c := range out {
				b.row(out[c], y, c)
			}
			return out
		}
	}
}

// onSensor is the step from light to what the sensor makes of it.
func (d *Settings) onSensor(width, height int, of raster.Rows) raster.Rows {
	f := film{Settings: d, width: width, height: height}
	return f.exposed(of).Row
}

// spread is the variance of a picture's light along a direction and across it, px².
func spread(p *raster.Picture, deg float64) (along, across float64) {
	s, c := math.Sincos(deg * math.Pi / 180)
	middle, sum := float64(p.Width/2), 0.0
	for i := range p.Width * p.Height {
		w := float64(p.Pix[3*i])
		x, y := float64(i%p.Width)-middle, float64(i/p.Width)-middle
		u, v := c*x+s*y, c*y-s*x
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
	point := func() *raster.Picture {
		p := raster.NewPicture(61, 61)
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

// The corners of an even picture lose the share of light that is asked for, its middle
// none, and places half way to a corner a quarter of it.
func TestVignettingDarkensTheCorners(t *testing.T) {
	flat := raster.NewPicture(41, 41)
	for i := range flat.Pix {
		flat.Pix[i] = 0.5
	}
	d := Settings{Exposure: 1, White: [3]float64{1, 1, 1}, Vignette: 0.4, Gamma: 1}
	lit := through(flat, d.onSensor)
	at := func(x, y int) float64 { return float64(lit.Pix[3*(y*41+x)]) }
	assert.InDelta(t, 0.5, at(20, 20), 1e-6)
	assert.InDelta(t, 0.5*0.6, at(0, 0), 1e-6)
	assert.InDelta(t, 0.5*0.6, at(40, 0), 1e-6)
	assert.InDelta(t, 0.5*0.9, at(10, 10), 1e-6)
}

// The blurs and the mosaic are symmetric: a spot's centroid stays where it was.
func TestDevelopingMovesNothing(t *testing.T) {
	const x0, y0, radius, paper = 83.7, 77.9, 40.0, 0.8
	pic := discOn(161, x0, y0, radius, paper)
	steps := map[string]stage{
		"gaussian": softened(1.3), "disc": defocused(4.2), "shake": shaken(5.5, 33),
		"mosaic": func(width, height int, of raster.Rows) raster.Rows {
			out := raster.NewLine(width)
			sensor := raster.NewWindow(height, 1, func() []float32 { return make([]float32, width) }, func(out []float32, y int) {
				for x, light := 0, of(y); x < width; x++ {
					out[x] = light[bayer(x, y)][x]
				}
			})
			return func(y int) raster.Line {
				demosaic(out, sensor.About(y), y, height)
				return out
			}
		},
	}
	for name, do := range steps {
		x, y, _ := grey(through(pic, do), paper)
		assert.InDelta(t, x0, x, 0.02, name)
		assert.InDelta(t, y0, y, 0.02, name)
	}
}

// grey is the plain centroid of missing light.
func grey(pic *raster.Picture, paper float64) (x, y, area float64) {
	for i := range pic.Width * pic.Height {
		w := 1 - float64(pic.Pix[3*i+1])/paper
		x += w * float64(i%pic.Width)
		y += w * float64(i/pic.Width)
		area += w
	}
	return x / area, y / area, area
}

// sRGB, IEC 61966-2-1, by hand from the curve: 1.055 · 0.18^(1/2.4) - 0.055 = 0.4613561295,
// 1.055 · 0.5^(1/2.4) - 0.055 = 0.7353569831, and 12.92 · 0.001 = 0.01292.
func TestToneWithoutTasteIsSRGB(t *testing.T) {
	v := Default()
	assert.InDelta(t, 0.4613561295, v.tone(0.18), 1e-9)
	assert.InDelta(t, 0.7353569831, v.tone(0.5), 1e-9)
	assert.InDelta(t, 0.01292, v.tone(0.001), 1e-9)
}

// The mean of many noisy pixels is the light, their variance Shot·light + Read².
func TestNoiseHasTheVarianceAsked(t *testing.T) {
	v := Settings{Exposure: 1, White: [3]float64{1, 1, 1}, Shot: 1.0 / 1000, Read: 0.01, Seed: 9}
	pic := raster.NewPicture(300, 300)
	for i := range pic.Pix {
		pic.Pix[i] = 0.5
	}
	pic = through(pic, v.onSensor)
	var sum, square float64
	for _, p := range pic.Pix {
		sum += float64(p)
		square += float64(p) * float64(p)
	}
	n := float64(len(pic.Pix))
	mean := sum / n
	want := 0.5/1000 + 0.01*0.01
	assert.InDelta(t, 0.5, mean, 4*math.Sqrt(want/n))
	assert.InDelta(t, 1, (square/n-mean*mean)/want, 4*math.Sqrt(2/n))
}

// discOn is a square picture of paper with a black disc on it: each pixel as dark as the
// share of 16 x 16 places in it that lie on the disc.
func discOn(side int, x0, y0, radius, paper float64) *raster.Picture {
	const fine = 16
	p := raster.NewPicture(side, side)
	for i := range side * side {
		inside := 0
		for k := range fine * fine {
			dx, dy := (float64(k%fine)+0.5)/fine-0.5, (float64(k/fine)+0.5)/fine-0.5
			if math.Hypot(float64(i%side)+dx-x0, float64(i/side)+dy-y0) < radius {
				inside++
			}
		}
		for c := range 3 {
			p.Pix[3*i+c] = float32(paper * (1 - float64(inside)/(fine*fine)))
		}
	}
	return p
}
