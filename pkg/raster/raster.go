// Package raster holds the part of a photo that is measured: light and colours on a
// grid, reduced by a whole factor, read at any place between its pixels.
//
// Frames. A photo's pixel (0, 0) is the centre of its top left pixel, x right, y
// down. A raster's pixel (i, j) covers the photo's pixels from X0 + i Factor to
// X0 + (i+1) Factor - 1, so that its centre lies at
//
//	x = X0 + (i + 1/2) Factor - 1/2,  i = (x - X0 + 1/2) / Factor - 1/2.
//
// The halves matter: without them a reduction by 4 moves everything by 1.5 px.
package raster

import (
	"math"
	"sync"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/photo"
)

// Raster is a cut-out of a photo in linear light, reduced by a whole factor by
// averaging, so that the narrowest line is still several pixels wide and noise
// is lower. Its pixel (i, j) covers Factor x Factor photo pixels.
type Raster struct {
	Width, Height int
	X0, Y0        int // first photo pixel covered
	Factor        int
	Light         []float32    // luminance, 0..1: 0.2126 red + 0.7152 green + 0.0722 blue (ITU-R BT.709)
	Colour        [3][]float32 // blue, green, red, 0..1
}

// New cuts [x0, x1) x [y0, y1) out of the picture.
func New(im photo.Image, x0, y0, x1, y1, factor int) *Raster {
	x0, y0 = max(0, x0), max(0, y0)
	x1, y1 = min(im.Width, x1), min(im.Height, y1)
	r := &Raster{X0: x0, Y0: y0, Factor: factor, Width: max(0, (x1-x0)/factor), Height: max(0, (y1-y0)/factor)}
	n := r.Width * r.Height
	r.Light = make([]float32, n)
	for c := range r.Colour {
		r.Colour[c] = make([]float32, n)
	}
	InBands(r.Height, func(from, to int) {
		for j := from; j < to; j++ {
			r.fillRow(im, j)
		}
	})
	return r
}

// fillRow averages the photo's pixels of one row in linear light: light adds,
// code values do not.
func (r *Raster) fillRow(im photo.Image, j int) {
	norm := 1 / float32(r.Factor*r.Factor)
	for i := range r.Width {
		var sum [3]float32
		for dy := range r.Factor {
			at := 3 * ((r.Y0+j*r.Factor+dy)*im.Width + r.X0 + i*r.Factor)
			for range r.Factor {
				sum[0] += photo.Linear[im.Pix[at]]
				sum[1] += photo.Linear[im.Pix[at+1]]
				sum[2] += photo.Linear[im.Pix[at+2]]
				at += 3
			}
		}
		k := j*r.Width + i
		for c := range sum {
			r.Colour[c][k] = sum[c] * norm
		}
		r.Light[k] = norm * (0.0722*sum[0] + 0.7152*sum[1] + 0.2126*sum[2])
	}
}

// InBands runs work over [0, n) in two bands at a time: the machines this runs
// on have few cores, and several photos may be under way at once.
func InBands(n int, work func(from, to int)) {
	var wait sync.WaitGroup
	wait.Go(func() { work(0, n/2) })
	work(n/2, n)
	wait.Wait()
}

// at maps a photo pixel to raster coordinates. Pixel centres are whole numbers
// in both, hence the halves.
func (r *Raster) at(p conic.Point) (x, y float64) {
	f := float64(r.Factor)
	return (p.X-float64(r.X0)+0.5)/f - 0.5, (p.Y-float64(r.Y0)+0.5)/f - 0.5
}

// Sample reads a plane of the raster at a photo pixel, bilinearly; NaN outside.
// With the fractions u, v of the way from pixel (i, j) to (i+1, j+1) that is
//
//	(1-v) [(1-u) p(i,j) + u p(i+1,j)] + v [(1-u) p(i,j+1) + u p(i+1,j+1)],
//
// which is exact for light that rises evenly, so that no edge is moved by it.
// (OpenCV's remap rounds the place to 1/32 px; here it is not rounded.)
func (r *Raster) Sample(plane []float32, p conic.Point) float64 {
	x, y := r.at(p)
	if !(x >= 0 && y >= 0 && x <= float64(r.Width-1) && y <= float64(r.Height-1)) {
		return math.NaN()
	}
	i, j := min(int(x), r.Width-2), min(int(y), r.Height-2)
	if i < 0 || j < 0 {
		return math.NaN()
	}
	fx, fy := x-float64(i), y-float64(j)
	k := j*r.Width + i
	a := float64(plane[k])*(1-fx) + float64(plane[k+1])*fx
	b := float64(plane[k+r.Width])*(1-fx) + float64(plane[k+r.Width+1])*fx
	return a*(1-fy) + b*fy
}

// SampleAll reads light, blue, green and red at a photo pixel as Sample does.
func (r *Raster) SampleAll(p conic.Point) [4]float64 {
	x, y := r.at(p)
	if !(x >= 0 && y >= 0 && x <= float64(r.Width-1) && y <= float64(r.Height-1)) || r.Width < 2 || r.Height < 2 {
		return [4]float64{math.NaN(), math.NaN(), math.NaN(), math.NaN()}
	}
	i, j := min(int(x), r.Width-2), min(int(y), r.Height-2)
	fx, fy := float32(x-float64(i)), float32(y-float64(j))
	k := j*r.Width + i
	var out [4]float64
	for c, plane := range [4][]float32{r.Light, r.Colour[0], r.Colour[1], r.Colour[2]} {
		a := plane[k] + fx*(plane[k+1]-plane[k])
		b := plane[k+r.Width] + fx*(plane[k+r.Width+1]-plane[k+r.Width])
		out[c] = float64(a + fy*(b-a))
	}
	return out
}

// Contains says whether the photo pixel lies on the raster.
func (r *Raster) Contains(p conic.Point) bool {
	x, y := r.at(p)
	return x >= 0 && y >= 0 && x <= float64(r.Width-1) && y <= float64(r.Height-1)
}
