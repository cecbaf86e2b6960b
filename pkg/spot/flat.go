package spot

import (
	"math"

	"burngauge.dev/burngauge/pkg/raster"
	"burngauge.dev/burngauge/pkg/ring"
)

// flat is a square piece of the target seen from straight above: n x n cells
// of step mm, linear light. Cell (i, j) has its centre at right x0 + i step,
// up y0 + j step, in mm on the tape's surface.
type flat struct {
	n      int
	step   float64
	x0, y0 float64
	light  []float64    // luminance, NaN off the photo
	colour [3][]float64 // blue, green, red
}

// flatten samples the fit's raster on a square of half width half (mm) about a
// place on the target.
func flatten(f *ring.Fit, right, up, half, step float64) *flat {
	n := 2*int(math.Ceil(half/step)) + 1
	p := &flat{n: n, step: step, x0: right - step*float64(n/2), y0: up - step*float64(n/2)}
	p.light = make([]float64, n*n)
	for c := range p.colour {
		p.colour[c] = make([]float64, n*n)
	}
	raster := f.Raster()
	fine := min(max(1, int(math.Ceil(step*f.PxPerMM()/float64(raster.Factor)))), 3) // samples a cell side; more only lessen noise that is small already
	tape := f.Tape()
	inRows(n, func(j int) {
		for i := range n {
			p.fill(tape, raster, i, j, fine)
		}
	})
	return p
}

func (p *flat) fill(tape ring.Surface, raster *raster.Raster, i, j, fine int) {
	var sum [4]float64
	for a := range fine {
		for b := range fine {
			x, y := p.place(i, j)
			x += p.step * ((float64(a)+0.5)/float64(fine) - 0.5)
			y += p.step * ((float64(b)+0.5)/float64(fine) - 0.5)
			px := tape.Pixel(x, y)
			v := raster.SampleAll(px)
			for c := range sum {
				sum[c] += v[c]
			}
		}
	}
	k, norm := j*p.n+i, 1/float64(fine*fine)
	p.light[k] = sum[0] * norm
	for c := range p.colour {
		p.colour[c][k] = sum[c+1] * norm
	}
}

// place is the middle of a cell, mm.
func (p *flat) place(i, j int) (right, up float64) {
	return p.x0 + float64(i)*p.step, p.y0 + float64(j)*p.step
}
