package ring

import (
	"math"
	"slices"

	"burngauge.dev/burngauge/pkg/conic"
	"burngauge.dev/burngauge/pkg/photo"
)

// edgeMap is the thinned edges of a small colour picture: gradient of the
// strongest colour channel, non-maxima removed.
type edgeMap struct {
	w, h      int
	magnitude []float32 // 0 off an edge
	gx, gy    []float32 // unit gradient
	dx, dy    []float32 // sub-pixel place of the edge within its pixel
	high      float32   // a chain starts above this
	low       float32   // and goes on above this
}

// findEdges is Canny's detector (PAMI 8, 1986: smoothed gradient, non-maxima
// removed, two thresholds) on colour: a disc may differ from what it lies on
// in hue alone. Thresholds follow the picture's own median gradient, so that
// neither dim light nor a rough table decides.
func findEdges(im photo.Image) *edgeMap {
	w, h := im.Width, im.Height
	e := &edgeMap{w: w, h: h}
	n := w * h
	mag := make([]float32, n)
	e.gx, e.gy = make([]float32, n), make([]float32, n)
	for c := range 3 {
		e.strongest(mag, blurred(im, c))
	}
	e.thin(mag)
	e.thresholds(mag)
	return e
}

// blurred is one channel smoothed by the binomial (1 4 6 4 1)/16 in both
// directions, sigma 1 px.
func blurred(im photo.Image, channel int) []float32 {
	w, h := im.Width, im.Height
	rows := make([]float32, w*h)
	out := make([]float32, w*h)
	inBands(h, func(from, to int) {
		for y := from; y < to; y++ {
			line := im.Pix[3*y*w : 3*(y+1)*w]
			at := func(x int) float32 { return float32(line[3*min(max(x, 0), w-1)+channel]) }
			for x := range w {
				if x >= 2 && x < w-2 {
					k := 3*x + channel
					rows[y*w+x] = (float32(line[k-6]) + float32(line[k+6]) + 4*(float32(line[k-3])+float32(line[k+3])) + 6*float32(line[k])) / 16
				} else {
					rows[y*w+x] = (at(x-2) + at(x+2) + 4*(at(x-1)+at(x+1)) + 6*at(x)) / 16
				}
			}
		}
	})
	inBands(h, func(from, to int) {
		for y := from; y < to; y++ {
			row := func(d int) []float32 { k := min(max(y+d, 0), h-1); return rows[k*w : (k+1)*w] }
			a, b, c, d, f := row(-2), row(-1), row(0), row(1), row(2)
			for x := range w {
				out[y*w+x] = (a[x] + f[x] + 4*(b[x]+d[x]) + 6*c[x]) / 16
			}
		}
	})
	return out
}

// strongest keeps, pixel by pixel, the larger of the gradient so far and this
// channel's (Scharr's 3x3 weights 3 10 3, made to mean code values per px).
func (e *edgeMap) strongest(mag, v []float32) {
	w := e.w
	inBands(e.h, func(from, to int) {
		for y := max(1, from); y < min(e.h-1, to); y++ {
			for x := 1; x < w-1; x++ {
				k := y*w + x
				gx := (3*(v[k-w+1]-v[k-w-1]+v[k+w+1]-v[k+w-1]) + 10*(v[k+1]-v[k-1])) / 32
				gy := (3*(v[k+w-1]-v[k-w-1]+v[k+w+1]-v[k-w+1]) + 10*(v[k+w]-v[k-w])) / 32
				if m := gx*gx + gy*gy; m > mag[k]*mag[k] {
					m = float32(math.Sqrt(float64(m)))
					mag[k], e.gx[k], e.gy[k] = m, gx/m, gy/m
				}
			}
		}
	})
}

// thin keeps the pixels whose gradient is largest along its own direction and
// places the edge between pixels by the parabola through three samples.
func (e *edgeMap) thin(mag []float32) {
	w := e.w
	e.magnitude = make([]float32, len(mag))
	e.dx, e.dy = make([]float32, len(mag)), make([]float32, len(mag))
	sample := func(x, y float32) float32 {
		i, j := int(x), int(y)
		fx, fy := x-float32(i), y-float32(j)
		k := j*w + i
		return (mag[k]*(1-fx)+mag[k+1]*fx)*(1-fy) + (mag[k+w]*(1-fx)+mag[k+w+1]*fx)*fy
	}
	inBands(e.h, func(from, to int) {
		for y := max(2, from); y < min(e.h-3, to); y++ {
			for x := 2; x < w-3; x++ {
				k := y*w + x
				m := mag[k]
				if m < 0.5 { // code values per px: below what 8 bits can tell
					continue
				}
				gx, gy := e.gx[k], e.gy[k]
				before := sample(float32(x)-gx, float32(y)-gy)
				after := sample(float32(x)+gx, float32(y)+gy)
				if m < before || m <= after {
					continue
				}
				t := 0.5 * (before - after) / (before - 2*m + after)
				e.magnitude[k], e.dx[k], e.dy[k] = m, t*gx, t*gy
			}
		}
	})
}

// thresholds sets the two levels from the median gradient of the picture.
func (e *edgeMap) thresholds(mag []float32) {
	sample := make([]float32, 0, len(mag)/17+1)
	for k := 0; k < len(mag); k += 17 {
		sample = append(sample, mag[k])
	}
	slices.Sort(sample)
	median := sample[len(sample)/2]
	// A line of 15 % contrast, narrow as a pixel, rises about 3 code values per
	// px in a well lit photo; the background's own texture must stay below.
	e.high = max(1.6, min(3.5, 2.5*median))
	e.low = 0.5 * e.high
}

// edgel is one edge point on the small picture.
type edgel struct {
	conic.Point
	gx, gy float64
}

// chains links edge pixels into curves that turn smoothly.
func (e *edgeMap) chains(shortest int) [][]edgel {
	used := make([]bool, len(e.magnitude))
	var out [][]edgel
	for k, m := range e.magnitude {
		if m < e.high || used[k] {
			continue
		}
		used[k] = true
		back := e.follow(k, -1, used)
		slices.Reverse(back)
		chain := append(append(back, e.edgel(k)), e.follow(k, +1, used)...)
		if len(chain) >= shortest {
			out = append(out, chain)
		}
	}
	return out
}

func (e *edgeMap) edgel(k int) edgel {
	return edgel{
		Point: conic.Point{X: float64(k%e.w) + float64(e.dx[k]), Y: float64(k/e.w) + float64(e.dy[k])},
		gx:    float64(e.gx[k]), gy: float64(e.gy[k]),
	}
}

// follow walks from pixel k along the edge (sense +1: the gradient on the
// left hand's side of the walk, -1: the other way) as long as it turns gently.
func (e *edgeMap) follow(k, sense int, used []bool) []edgel {
	var out []edgel
	s := float32(sense)
	for {
		x, y := k%e.w, k/e.w
		if x < 2 || y < 2 || x >= e.w-3 || y >= e.h-3 {
			return out
		}
		tx, ty := -s*e.gy[k], s*e.gx[k]
		best, bestScore := -1, float32(0)
		for dy := -1; dy <= 1; dy++ {
			for dx := -1; dx <= 1; dx++ {
				j := k + dy*e.w + dx
				if j == k || used[j] || e.magnitude[j] < e.low {
					continue
				}
				turn := e.gx[k]*e.gx[j] + e.gy[k]*e.gy[j]
				forward := (float32(dx)*tx + float32(dy)*ty) / float32(math.Sqrt(float64(dx*dx+dy*dy)))
				if turn < 0.8 || forward < 0.4 { // 37 and 66 degrees a pixel
					continue
				}
				if score := turn + forward; score > bestScore {
					best, bestScore = j, score
				}
			}
		}
		if best < 0 {
			return out
		}
		used[best] = true
		k = best
		out = append(out, e.edgel(k))
	}
}
