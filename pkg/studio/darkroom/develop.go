package darkroom

import (
	"image"
	"math"
	"math/rand/v2"

	"burngauge.dev/burngauge/pkg/studio/raster"
)

// Settings says what lens, sensor and phone make of the light. The zero value of
// a field leaves its step out, except Exposure, White and Gamma: use DefaultDevelop.
type Settings struct {
	Exposure  float64    // factor on the light
	White     [3]float64 // factors of the white balance: red, green, blue
	BlurPX    float64    // Gaussian sigma of the lens, px
	DefocusPX float64    // radius of the disc of confusion, px
	MotionPX  float64    // length of the shake's path, px, straight and even
	MotionDeg float64    // its direction, from x to y
	Vignette  float64    // share of light lost in the corners
	Flare     float64    // veil of stray light added everywhere
	Shot      float64    // variance of the noise per unit of light: 1/electrons at full scale
	Read      float64    // standard deviation of the noise in the dark, share of full scale
	Mosaic    bool       // one colour a pixel on the sensor, the others put in from the neighbours
	Sharpen   float64    // strength of an unsharp mask, 0.2..1 leaves halos
	SharpenPX float64    // its Gaussian sigma, px
	Gamma     float64    // exponent on the coded value, 1: as sRGB says
	Curve     float64    // S-shaped contrast, 0: none, 0.5: strong
	Quality   int        // JPEG, 1..100
	Seed      uint64
}

// Default is a good phone in good light.
func Default() Settings {
	return Settings{Exposure: 1, White: [3]float64{1, 1, 1}, BlurPX: 0.6, Shot: 1.0 / 4000, Read: 0.002,
		Mosaic: true, Gamma: 1, Quality: 88, SharpenPX: 1}
}

// Photo develops a rendered picture into 8-bit sRGB, and leaves it as it is.
// Same picture and same settings give the same bytes, whatever the machine's number of processors.
func (d Settings) Photo(pic *raster.Picture) *image.RGBA {
	return d.develop(newStorage(pic.Width, pic.Height, 1), pic.Rows)
}

// Shoot is Photo of light that comes row by row, stored as an EXIF orientation asks. light
// is called once for every processor. It never keeps more of the picture than a few rows.
// The image is lent: give it back with Release.
func (d Settings) Shoot(light func() raster.Rows, width, height, orientation int) *image.RGBA {
	return d.develop(newStorage(width, height, orientation), light)
}

// develop takes each row through all steps on its way. A step asks the one before for the rows
// that it looks at, which come out of a window when they were made already. light is called once for every
// processor.
func (d *Settings) develop(on *storage, light func() raster.Rows) *image.RGBA {
	tones := d.tones()
	raster.InRuns(on.height, func(next func() (from, to int, ok bool)) {
		f := film{Settings: d, width: on.width, height: on.height, tones: tones}
		quantised, made := f.quantised(f.coded(f.exposed(f.smeared(light())))), on.room(raster.HandRows)
		for from, to, ok := next(); ok; from, to, ok = next() {
			for y := from; y < to; y++ {
				quantised(made[y-from], y)
			}
			on.put(made[:to-from], from)
		}
	})
	return on.img
}

// film is a picture being developed on one processor: each step makes rows out of those
// of the step before.
type film struct {
	*Settings
	width, height int
	tones         []float32
}

// kept keeps rows that a step makes, so many to either side of the one in hand.
func (f *film) kept(reach int, fill func(out raster.Line, y int)) *raster.Window[raster.Line] {
	return raster.NewWindow(f.height, reach, func() raster.Line { return raster.NewLine(f.width) }, fill)
}

// smeared is the light as hand and focus smear it.
func (f *film) smeared(light raster.Rows) raster.Rows {
	if f.MotionPX > 0 {
		light = shake(f.width, f.height, f.MotionPX, f.MotionDeg, light)
	}
	if f.DefocusPX > 0 {
		light = discBlur(f.width, f.height, f.DefocusPX, light)
	}
	return light
}

// exposed blurs as the lens does and turns light into sensor values 0..1 with noise.
// With Mosaic there is one value for each pixel, of the colour that its filter passes, in
// place of red.
func (f *film) exposed(light raster.Rows) *raster.Window[raster.Line] {
	lens, seen := newBlur(f.width, f.height, f.BlurPX, light), raster.NewLine(f.width)
	return f.kept(1, func(out raster.Line, y int) {
		for c := range seen {
			if !f.Mosaic || c == bayer(0, y) || c == bayer(1, y) {
				lens.row(seen[c], y, c)
			}
		}
		f.expose(out, seen, y)
	})
}

// expose is what the sensor makes of a row's light. The lens's corners are darker: the gain
// falls as 1 - Vignette · r²/R² with r the distance from the picture's middle and R that of
// its corners. The noise of a row follows from the seed and the row's number.
func (f *film) expose(out, light raster.Line, y int) {
	rng := rand.New(rand.NewPCG(f.Seed, uint64(y)))
	cx, cy := float64(f.width-1)/2, float64(f.height-1)/2
	far2 := cx*cx + cy*cy
	white := f.White
	dy := float64(y) - cy
	for x := range f.width {
		dx := float64(x) - cx
		gain := f.Exposure * (1 - f.Vignette*(dx*dx+dy*dy)/far2)
		if f.Mosaic {
			c := bayer(x, y)
			out[0][x] = f.sensed(rng, light[c][x], gain, white[c])
			continue
		}
		for c := range out {
			out[c][x] = f.sensed(rng, light[c][x], gain, white[c])
		}
	}
}

// sensed is what the sensor makes of one colour's light: v = (light + Flare) · gain · white,
// and noise of the variance v · Shot + Read². Electrons are counted by a Poisson
// law, whose variance is its mean; at N electrons in full light it is v/N of the full
// scale's square, hence Shot = 1/N. A normal law of that variance stands for it. What lies
// beyond full scale is clipped.
func (d *Settings) sensed(rng *rand.Rand, light float32, gain, white float64) float32 {
	v := (float64(light) + d.Flare) * gain * white
	v += rng.NormFloat64() * math.Sqrt(max(v, 0)*d.Shot+d.Read*d.Read)
	switch { // min and max would look for NaN too
	case v < 0:
		return 0
	case v > 1:
		return 1
	}
	return float32(v)
}

// bayer is the filter of a pixel, 0 red, 1 green, 2 blue: rows of red and green and rows of
// green and blue in turn, so that the number is the sum of the two parities (B. E. Bayer,
// "Color imaging array", US patent 3 971 065, 1976).
func bayer(x, y int) int { return x&1 + y&1 }

// demosaic puts in the two missing colours of each pixel of a row as the mean of the
// nearest ones that have them, weighted by the kernel (1 2 1)ᵗ (1 2 1): two neighbours 1/2
// each, four 1/4 each. That is bilinear interpolation. The weights are symmetric: nothing
// moves. about are the sensor's values in the row and the ones above and below it.
func demosaic(out raster.Line, about [][]float32, y, height int) {
	last := len(out[0]) - 1
	if y == 0 || y == height-1 {
		for x := range out[0] {
			filteredAtBorder(out, about, x, y, height)
		}
		return
	}
	filteredAtBorder(out, about, 0, y, height)
	filteredAtBorder(out, about, last, y, height)
	above, own, below := about[0], about[1], about[2]
	for x := 1; x < last; x++ {
		switch c := bayer(x, y); c {
		case 1: // green: one other colour left and right, the other above and below
			beside := bayer(x+1, y)
			out[1][x] = own[x]
			out[beside][x] = (2*own[x-1] + 2*own[x+1]) / 4
			out[2-beside][x] = (2*above[x] + 2*below[x]) / 4
		default:
			out[c][x] = own[x]
			out[1][x] = (2*above[x] + 2*own[x-1] + 2*own[x+1] + 2*below[x]) / 8
			out[2-c][x] = (above[x-1] + above[x+1] + below[x-1] + below[x+1]) / 4
		}
	}
}

// cross3 are the weights of a pixel's 3 x 3 neighbours: 4, 2 and 1 by distance.
var cross3 = [3]float32{1, 2, 1}

// filteredAtBorder is demosaic for a pixel that may lack neighbours: the mean of those that are
// there, Σ w p / Σ w with w from cross3 for the pixels of the colour that is missing.
func filteredAtBorder(out raster.Line, about [][]float32, x, y, height int) {
	for c := range out {
		if bayer(x, y) == c {
			out[c][x] = about[1][x]
			continue
		}
		var sum, weight float32
		for j := max(y-1, 0); j <= min(y+1, height-1); j++ {
			for i := max(x-1, 0); i <= min(x+1, len(out[c])-1); i++ {
				if bayer(i, j) == c {
					w := cross3[i-x+1] * cross3[j-y+1]
					sum += w * about[j-y+1][i]
					weight += w
				}
			}
		}
		out[c][x] = sum / weight
	}
}

// codeSteps is fine enough that a step of the code table is below a tenth of an
// 8-bit step even where the sRGB curve is steepest (12.92).
const codeSteps = 1 << 15

// coded puts in the colours that the sensor's filters left out and applies the tone
// curve: light 0..1 to coded values 0..1.
func (f *film) coded(sensor *raster.Window[raster.Line]) *raster.Window[raster.Line] {
	mosaic := make([][]float32, 3)
	return f.kept(len(gaussian(f.softPX()))-1, func(out raster.Line, y int) {
		if f.Mosaic {
			for i, l := range sensor.About(y) {
				mosaic[i] = l[0]
			}
			demosaic(out, mosaic, y, f.height)
		} else {
			for c, colour := range sensor.Row(y) {
				copy(out[c], colour)
			}
		}
		for _, colour := range out {
			for x, v := range colour {
				colour[x] = f.tones[int(v*codeSteps+0.5)]
			}
		}
	})
}

// tones is the table of tone at i/codeSteps, i = 0 .. codeSteps; the nearest entry is taken.
func (d *Settings) tones() []float32 {
	table := make([]float32, codeSteps+1)
	for i := range table {
		table[i] = float32(d.tone(float64(i) / codeSteps))
	}
	return table
}

// tone is the curve from light to coded value. First sRGB (IEC 61966-2-1): 12.92 L up to
// L = 0.0031308 and 1.055 L^(1/2.4) - 0.055 above. Then v^Gamma. Then an S, the cubic
// 3v² - 2v³ mixed in by Curve: dark gets darker and light lighter, 0, 1/2 and 1 stay.
func (d *Settings) tone(light float64) float64 {
	v := 12.92 * light
	if light > 0.0031308 {
		v = 1.055*math.Pow(light, 1/2.4) - 0.055
	}
	v = math.Pow(v, d.Gamma)
	return v + d.Curve*(v*v*(3-2*v)-v)
}

// quantised sharpens and rounds to 8 bits. Sharpening is an unsharp mask, v + Sharpen ·
// (v - blurred v), as phones do it: bright and dark rims at edges.
func (f *film) quantised(coded *raster.Window[raster.Line]) func(out []pixel, y int) {
	soft, softened := newBlur(f.width, f.height, f.softPX(), coded.Row), raster.NewLine(f.width)
	strength := float32(f.Sharpen)
	return func(out []pixel, y int) {
		if f.Sharpen > 0 {
			for c := range softened {
				soft.row(softened[c], y, c)
			}
		}
		row := coded.Row(y)
		if f.Sharpen > 0 {
			for c, colour := range row {
				for x, v := range colour {
					softened[c][x] = v + strength*(v-softened[c][x])
				}
			}
			row = softened
		}
		red, green, blue := row[0][:len(out)], row[1][:len(out)], row[2][:len(out)]
		for x := range out {
			out[x] = pixel{eightBits(red[x]), eightBits(green[x]), eightBits(blue[x]), 255}
		}
	}
}

// softPX is the sigma of the copy that sharpening compares with.
func (d *Settings) softPX() float64 {
	if d.Sharpen <= 0 {
		return 0
	}
	return d.SharpenPX
}

// eightBits rounds a coded value v, held within 0..1, to the nearest of 0..255: the integer
// part of 255 v + 1/2.
func eightBits(v float32) uint8 {
	if v <= 0 {
		return 0
	}
	if v >= 1 {
		return 255
	}
	return uint8(v*255 + 0.5)
}
