package rehearsal

import (
	"image"
	"math"
	"math/rand/v2"
)

// Develop says what lens, sensor and phone make of the light. The zero value of
// a field leaves its step out, except Exposure, White and Gamma: use DefaultDevelop.
type Develop struct {
	Exposure  float64 // factor on the light
	White     RGB     // factors of the white balance
	BlurPX    float64 // Gaussian sigma of the lens, px
	DefocusPX float64 // radius of the disc of confusion, px
	MotionPX  float64 // length of the shake's path, px, straight and even
	MotionDeg float64 // its direction, from x to y
	Vignette  float64 // share of light lost in the corners
	Flare     float64 // veil of stray light added everywhere
	Shot      float64 // variance of the noise per unit of light: 1/electrons at full scale
	Read      float64 // standard deviation of the noise in the dark, share of full scale
	Mosaic    bool    // one colour a pixel on the sensor, the others put in from the neighbours
	Sharpen   float64 // strength of an unsharp mask, 0.2..1 leaves halos
	SharpenPX float64 // its Gaussian sigma, px
	Gamma     float64 // exponent on the coded value, 1: as sRGB says
	Curve     float64 // S-shaped contrast, 0: none, 0.5: strong
	Quality   int     // JPEG, 1..100
	Seed      uint64
}

// DefaultDevelop is a good phone in good light.
func DefaultDevelop() Develop {
	return Develop{Exposure: 1, White: Grey(1), BlurPX: 0.6, Shot: 1.0 / 4000, Read: 0.002,
		Mosaic: true, Gamma: 1, Quality: 88, SharpenPX: 1}
}

// Photo develops a rendered picture into 8-bit sRGB, and leaves it as it is.
// Same picture and same settings give the same bytes, whatever the machine's number of processors.
func (d Develop) Photo(given *Picture) *image.RGBA {
	pic := given
	// become goes on with another picture and gives back the one before, but not the caller's.
	become := func(next *Picture) {
		if pic != given {
			pic.release()
		}
		pic = next
	}
	if d.MotionPX > 0 {
		become(shake(pic, d.MotionPX, d.MotionDeg))
	}
	if d.DefocusPX > 0 {
		become(discBlur(pic, d.DefocusPX))
	}
	become(d.expose(pic))
	become(d.code(pic))
	img := d.quantise(pic)
	become(given)
	return img
}

// expose blurs as the lens does and turns light into sensor values 0..1 with noise.
// With Mosaic only the colour that each pixel's filter passes means anything.
func (d *Develop) expose(pic *Picture) *Picture {
	out := scratchPicture(pic.Width, pic.Height)
	gaussianRows(out, pic, d.BlurPX, func(y int, row []float32) {
		d.exposeRow(row, y, pic.Width, pic.Height)
	})
	return out
}

func (d *Develop) exposeRow(row []float32, y, width, height int) {
	rng := rand.New(rand.NewPCG(d.Seed, uint64(y)))
	cx, cy := float64(width-1)/2, float64(height-1)/2
	far2 := cx*cx + cy*cy
	for x := range width {
		dx, dy := float64(x)-cx, float64(y)-cy
		gain := d.Exposure * (1 - d.Vignette*(dx*dx+dy*dy)/far2)
		if d.Mosaic {
			c := bayer(x, y)
			row[3*x+c] = d.sensed(rng, row[3*x+c], gain, c)
			continue
		}
		for c := range 3 {
			row[3*x+c] = d.sensed(rng, row[3*x+c], gain, c)
		}
	}
}

// sensed is what the sensor makes of one colour's light.
func (d *Develop) sensed(rng *rand.Rand, light float32, gain float64, c int) float32 {
	v := (float64(light) + d.Flare) * gain * d.White[c]
	v += rng.NormFloat64() * math.Sqrt(max(v, 0)*d.Shot+d.Read*d.Read)
	return float32(min(max(v, 0), 1))
}

// bayer is the filter of a pixel: red and green, green and blue rows in turn.
func bayer(x, y int) int { return x&1 + y&1 }

// demosaicRow puts in the two missing colours of each pixel of a row as the mean of
// the nearest ones that have them. The weights are symmetric: nothing moves.
func demosaicRow(out, pic *Picture, y int) {
	edge := y == 0 || y == pic.Height-1
	for x := range pic.Width {
		if edge || x == 0 || x == pic.Width-1 {
			for c := range 3 {
				out.Pix[3*(y*pic.Width+x)+c] = filtered(pic, x, y, c)
			}
			continue
		}
		filteredWithin(out, pic, x, y)
	}
}

// cross3 are the weights of a pixel's 3 x 3 neighbours: 4, 2 and 1 by distance.
var cross3 = [3]float32{1, 2, 1}

func filtered(pic *Picture, x, y, c int) float32 {
	if bayer(x, y) == c {
		return pic.Pix[3*(y*pic.Width+x)+c]
	}
	var sum, weight float32
	for j := max(y-1, 0); j <= min(y+1, pic.Height-1); j++ {
		for i := max(x-1, 0); i <= min(x+1, pic.Width-1); i++ {
			if bayer(i, j) == c {
				w := cross3[i-x+1] * cross3[j-y+1]
				sum += w * pic.Pix[3*(j*pic.Width+i)+c]
				weight += w
			}
		}
	}
	return sum / weight
}

// filteredWithin is filtered for all colours of a pixel that has eight neighbours.
// It sums in the same order, so that the result is the same to the last bit.
func filteredWithin(out, pic *Picture, x, y int) {
	at, down := 3*(y*pic.Width+x), 3*pic.Width
	p := pic.Pix
	own := bayer(x, y)
	out.Pix[at+own] = p[at+own]
	if own == 1 { // green: one other colour left and right, the other above and below
		beside := bayer(x+1, y)
		above := 2 - beside
		out.Pix[at+beside] = (2*p[at-3+beside] + 2*p[at+3+beside]) / 4
		out.Pix[at+above] = (2*p[at-down+above] + 2*p[at+down+above]) / 4
		return
	}
	far := 2 - own
	out.Pix[at+1] = (2*p[at-down+1] + 2*p[at-3+1] + 2*p[at+3+1] + 2*p[at+down+1]) / 8
	out.Pix[at+far] = (p[at-down-3+far] + p[at-down+3+far] + p[at+down-3+far] + p[at+down+3+far]) / 4
}

// codeSteps is fine enough that a step of the code table is below a tenth of an
// 8-bit step even where the sRGB curve is steepest (12.92).
const codeSteps = 1 << 15

// code puts in the colours that the sensor's filters left out and applies the tone
// curve: light 0..1 to coded values 0..1.
func (d *Develop) code(pic *Picture) *Picture {
	table := make([]float32, codeSteps+1)
	for i := range table {
		table[i] = float32(d.tone(float64(i) / codeSteps))
	}
	out := scratchPicture(pic.Width, pic.Height)
	inBlocks(pic.Height, func(from, to int) {
		for y := from; y < to; y++ {
			row := out.row(y)
			if d.Mosaic {
				demosaicRow(out, pic, y)
			} else {
				copy(row, pic.row(y))
			}
			for i, v := range row {
				row[i] = table[int(v*codeSteps+0.5)]
			}
		}
	})
	return out
}

// tone is the curve from light to coded value: sRGB, then gamma, then an S.
func (d *Develop) tone(light float64) float64 {
	v := 12.92 * light
	if light > 0.0031308 {
		v = 1.055*math.Pow(light, 1/2.4) - 0.055
	}
	v = math.Pow(v, d.Gamma)
	return v + d.Curve*(fade(v)-v)
}

// quantise sharpens and rounds to 8 bits. Sharpening adds the difference to a
// blurred copy, as phones do: bright and dark rims at edges.
func (d *Develop) quantise(pic *Picture) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, pic.Width, pic.Height))
	sigma, strength := d.SharpenPX, float32(d.Sharpen)
	if d.Sharpen <= 0 {
		sigma, strength = 0, 0
	}
	gaussianRows(nil, pic, sigma, func(y int, soft []float32) {
		row, out := pic.row(y), img.Pix[y*img.Stride:][:4*pic.Width]
		for i, v := range row {
			soft[i] = v + strength*(v-soft[i])
		}
		for x := range pic.Width {
			p, o := soft[3*x:3*x+3], out[4*x:4*x+4]
			o[0], o[1], o[2], o[3] = eightBits(p[0]), eightBits(p[1]), eightBits(p[2]), 255
		}
	})
	return img
}

// eightBits rounds a coded value, held within 0..1.
func eightBits(v float32) uint8 {
	if v <= 0 {
		return 0
	}
	if v >= 1 {
		return 255
	}
	return uint8(v*255 + 0.5)
}
