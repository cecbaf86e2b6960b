// Package ellipse finds the ellipses that the edges of a picture support: circles
// on any target, hole or coin, seen from the side. Edges are thinned gradients
// (J. Canny, PAMI 8 (1986) 679), linked into chains that turn smoothly; a chain's
// ellipse gathers all edges along it and is fitted again. Pairs of ellipses are the
// flanks of lines, and sets of lines about one middle the rings of some target.
//
// Pixel (0, 0) is the centre of the top left pixel, x right, y down.
package ellipse

import (
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/raster"
)

// edgeMap is the thinned edges of a small colour picture: gradient of the
// strongest colour channel, non-maxima removed.
type edgeMap struct {
	set       *Settings
	w, h      int
	magnitude []float32 // code values per px; 0 off an edge
	gx, gy    []float32 // unit gradient, on edges only
	shift     []float32 // along the gradient from the pixel to the edge, px
	high      float32   // a chain starts above this
	low       float32   // and goes on above this
}

// findEdges is Canny's detector (PAMI 8, 1986: smoothed gradient, non-maxima
// removed, two thresholds) on colour: a disc may differ from what it lies on
// in hue alone. Thresholds follow the picture's own median gradient, so that
// neither dim light nor a rough table decides.
func findEdges(im photo.Image, set *Settings) *edgeMap {
	n := im.Width * im.Height
	e := &edgeMap{
		set: set,
		w:   im.Width, h: im.Height,
		magnitude: make([]float32, n), gx: make([]float32, n), gy: make([]float32, n), shift: make([]float32, n),
	}
	samples := make([][]float32, 2)
	raster.InBands(im.Height, func(from, to int) { samples[min(from, 1)] = e.findRows(im, from, to) })
	e.thresholds(slices.Concat(samples...))
	return e
}

// findRows finds the edges of rows from to to, and returns a sample of their
// gradients. Only the few rows that the next one needs are kept on the way:
// whole pictures of every step take longer to write than to work out.
func (e *edgeMap) findRows(im photo.Image, from, to int) (sample []float32) {
	g := newGradients(im)
	for y := from; y < to; y++ {
		g.upTo(y + 1)
		row := g.magnitude.row(y)
		for x := (sampleStep - y*e.w%sampleStep) % sampleStep; x < e.w; x += sampleStep {
			sample = append(sample, row[x])
		}
		if y >= 2 && y < e.h-3 {
			e.thin(g, y)
		}
	}
	return sample
}

// sampleStep is the step in pixels, along the rows, of the gradients from
// which the median is taken.
const sampleStep = 17

// thin keeps the pixels of a row whose gradient is largest along its own
// direction and places the edge between pixels by the parabola through three
// samples: of values a, b, c one pixel apart along the gradient, b the largest, the
// vertex lies (a - c) / (2 (a - 2 b + c)) px from b.
func (e *edgeMap) thin(g *gradients, y int) {
	mag, gx, gy := g.magnitude.row(y), g.gx.row(y), g.gy.row(y)
	sample := func(x, y float32) float32 {
		i, j := int(x), int(y)
		fx, fy := x-float32(i), y-float32(j)
		a, b := g.magnitude.row(j), g.magnitude.row(j+1)
		return (a[i]*(1-fx)+a[i+1]*fx)*(1-fy) + (b[i]*(1-fx)+b[i+1]*fx)*fy
	}
	for x := 2; x < e.w-3; x++ {
		m := mag[x]
		if m < e.set.LeastGradient {
			continue
		}
		before := sample(float32(x)-gx[x], float32(y)-gy[x])
		after := sample(float32(x)+gx[x], float32(y)+gy[x])
		if m < before || m <= after {
			continue
		}
		k := y*e.w + x
		e.magnitude[k], e.gx[k], e.gy[k] = m, gx[x], gy[x]
		e.shift[k] = 0.5 * (before - after) / (before - 2*m + after)
	}
}

// thresholds sets the two levels from the median gradient of the picture.
func (e *edgeMap) thresholds(sample []float32) {
	slices.Sort(sample)
	median := sample[len(sample)/2]
	e.high = max(e.set.LeastHigh, min(e.set.MostHigh, e.set.HighTimes*median))
	e.low = e.set.LowShare * e.high
}

// gradients works down a picture and holds the last rows of what it has worked
// out: each channel smoothed by the binomial (1 4 6 4 1)/16 in both directions,
// sigma 1 px, and the strongest channel's gradient, by Scharr's 3x3 weights
// 3 10 3, in code values per px.
type gradients struct {
	im            photo.Image
	across        [3]rows // smoothed along the rows
	smooth        [3]rows // and across them
	magnitude     rows
	gx, gy        rows // unit gradient
	nextAcross    int
	nextSmooth    int
	nextMagnitude int
}

func newGradients(im photo.Image) *gradients {
	g := &gradients{im: im, magnitude: newRows(im.Width), gx: newRows(im.Width), gy: newRows(im.Width), nextMagnitude: -1}
	for c := range g.across {
		g.across[c], g.smooth[c] = newRows(im.Width), newRows(im.Width)
	}
	return g
}

// rows are the last few rows of a picture that is worked out row by row.
type rows struct {
	values []float32
	width  int
}

// kept rows: smoothing across needs five. It is a power of two, for speed.
const kept = 8

func newRows(width int) rows { return rows{make([]float32, kept*width), width} }

func (r rows) row(y int) []float32 {
	at := (y & (kept - 1)) * r.width
	return r.values[at : at+r.width]
}

// upTo makes sure of the gradients of the three rows up to y.
func (g *gradients) upTo(y int) {
	if g.nextMagnitude < 0 { // the first call says where the band begins
		g.nextMagnitude = max(0, y-2)
		g.nextSmooth = max(0, g.nextMagnitude-1)
		g.nextAcross = max(0, g.nextSmooth-2)
	}
	for ; g.nextMagnitude <= min(y, g.im.Height-1); g.nextMagnitude++ {
		for ; g.nextSmooth <= min(g.nextMagnitude+1, g.im.Height-1); g.nextSmooth++ {
			for ; g.nextAcross <= min(g.nextSmooth+2, g.im.Height-1); g.nextAcross++ {
				g.smoothAlong(g.nextAcross)
			}
			g.smoothAcross(g.nextSmooth)
		}
		g.strongest(g.nextMagnitude)
	}
}

func (g *gradients) smoothAlong(y int) {
	w := g.im.Width
	line := g.im.Pix[3*y*w : 3*(y+1)*w]
	for c := range g.across {
		out := g.across[c].row(y)
		at := func(x int) float32 { return float32(line[3*min(max(x, 0), w-1)+c]) }
		for x := range out {
			if x >= 2 && x < w-2 {
				k := 3*x + c
				out[x] = (float32(line[k-6]) + float32(line[k+6]) + 4*(float32(line[k-3])+float32(line[k+3])) + 6*float32(line[k])) / 16
			} else {
				out[x] = (at(x-2) + at(x+2) + 4*(at(x-1)+at(x+1)) + 6*at(x)) / 16
			}
		}
	}
}

func (g *gradients) smoothAcross(y int) {
	for c := range g.smooth {
		row := func(d int) []float32 { return g.across[c].row(min(max(y+d, 0), g.im.Height-1)) }
		out, a, b, m, d, e := g.smooth[c].row(y), row(-2), row(-1), row(0), row(1), row(2)
		for x := range out {
			out[x] = (a[x] + e[x] + 4*(b[x]+d[x]) + 6*m[x]) / 16
		}
	}
}

// strongest takes, pixel by pixel, the channel with the largest gradient; the
// picture's border has none. The derivative is Scharr's,
//
//	        [ -3  0  3 ]
//	1/32 ·  [-10  0 10 ]   along x, and its transpose along y,
//	        [ -3  0  3 ]
//
// whose direction is nearly that of the true gradient at every angle (H. Scharr,
// thesis, Heidelberg 2000; weights from memory). A straight step then has the same
// place whichever way it runs.
func (g *gradients) strongest(y int) {
	mag, ux, uy := g.magnitude.row(y), g.gx.row(y), g.gy.row(y)
	clear(mag)
	if y == 0 || y == g.im.Height-1 {
		return
	}
	for c := range g.smooth {
		a, b, d := g.smooth[c].row(y-1), g.smooth[c].row(y), g.smooth[c].row(y+1)
		for x := 1; x < len(mag)-1; x++ {
			gx := (3*(a[x+1]-a[x-1]+d[x+1]-d[x-1]) + 10*(b[x+1]-b[x-1])) / 32
			gy := (3*(d[x-1]-a[x-1]+d[x+1]-a[x+1]) + 10*(d[x]-a[x])) / 32
			if m := gx*gx + gy*gy; m > mag[x]*mag[x] {
				m = float32(math.Sqrt(float64(m)))
				mag[x], ux[x], uy[x] = m, gx/m, gy/m
			}
		}
	}
}
