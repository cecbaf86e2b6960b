package raster

import (
	"math"

	"burngauge.dev/burngauge/pkg/photo"
)

// smallSide is the longer side in px that a photo is reduced to for finding, to
// the nearest whole factor. The finest detail that finding needs is a 1.2 px line
// of a target that spans 12 % of the short side: of plain-4, 16.3 mm wide with
// lines of 0.3 mm, these are 100 px of 825, 1.8 px a line. Larger costs time in
// proportion to its square; smaller loses the lines of small targets.
const smallSide = 1100

// Small is the photo reduced by a whole factor for finding.
func Small(ph *photo.Photo) (photo.Image, *Raster) {
	factor := max(1, int(math.Round(float64(max(ph.Image.Width, ph.Image.Height))/smallSide)))
	im := Reduced(ph.Image, factor)
	r := &Raster{Width: im.Width, Height: im.Height, Factor: factor, Light: make([]float32, im.Width*im.Height)}
	for k := range r.Light { // code values: noise is more even in them than in linear light
		r.Light[k] = 0.0722*float32(im.Pix[3*k]) + 0.7152*float32(im.Pix[3*k+1]) + 0.2126*float32(im.Pix[3*k+2])
	}
	return im, r
}

// Reduced averages factor x factor blocks of code values, rounded to the nearest;
// what does not fill a block at the right and at the bottom is left out. Code values
// and not linear light: edges are looked for in them (see Small).
func Reduced(im photo.Image, factor int) photo.Image {
	if factor == 1 {
		return im
	}
	if im.Width%factor == 0 && im.Height%factor == 0 {
		return im.Reduced(im.Width/factor, im.Height/factor) // the same averages, by the library
	}
	out := photo.Image{Width: im.Width / factor, Height: im.Height / factor}
	out.Pix = make([]byte, 3*out.Width*out.Height)
	InBands(out.Height, func(from, to int) {
		sums := make([]uint32, 3*out.Width)
		for y := from; y < to; y++ {
			clear(sums)
			for dy := range factor {
				row := im.Pix[3*(y*factor+dy)*im.Width:]
				at := 0
				for x := range out.Width {
					var b, g, r uint32
					for range factor {
						b += uint32(row[at])
						g += uint32(row[at+1])
						r += uint32(row[at+2])
						at += 3
					}
					sums[3*x] += b
					sums[3*x+1] += g
					sums[3*x+2] += r
				}
			}
			area := uint32(factor * factor)
			for k, s := range sums {
				out.Pix[3*y*out.Width+k] = byte((s + area/2) / area)
			}
		}
	})
	return out
}

// Halved averages the light of 2 x 2 pixels; its factor doubles, so that a place
// is sampled by the photo's pixels as before.
func (r *Raster) Halved() *Raster {
	out := &Raster{Width: r.Width / 2, Height: r.Height / 2, Factor: 2 * r.Factor}
	out.Light = make([]float32, out.Width*out.Height)
	for y := range out.Height {
		for x := range out.Width {
			k := 2*y*r.Width + 2*x
			out.Light[y*out.Width+x] = (r.Light[k] + r.Light[k+1] + r.Light[k+r.Width] + r.Light[k+r.Width+1]) / 4
		}
	}
	return out
}
