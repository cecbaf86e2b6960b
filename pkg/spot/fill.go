package spot

import "math"

// fill bridges the unknown cells from the known ones around them, coarse to
// fine (pull and push: each level averages what is known, then hands it down).
// Known cells keep a tenth of their own value, the rest is their neighbours':
// light is smooth, noise is not.
func fill(values []float64, unknown mask, n int) []float64 {
	weight := make([]float64, n*n)
	v := make([]float64, n*n)
	for k := range values {
		if !unknown.in[k] && !math.IsNaN(values[k]) {
			weight[k], v[k] = 0.1, values[k]
		}
	}
	pullPush(v, weight, n, n)
	return v
}

func pullPush(v, weight []float64, w, h int) {
	if w <= 2 && h <= 2 {
		settleSmall(v, weight)
		return
	}
	cw, ch := (w+1)/2, (h+1)/2
	cv, cweight := make([]float64, cw*ch), make([]float64, cw*ch)
	for y := range h {
		for x := range w {
			k, c := y*w+x, (y/2)*cw+x/2
			cv[c] += weight[k] * v[k]
			cweight[c] += weight[k]
		}
	}
	for c := range cv {
		if cweight[c] > 0 {
			cv[c] /= cweight[c]
			cweight[c] = min(1, cweight[c])
		}
	}
	pullPush(cv, cweight, cw, ch)
	for y := range h {
		for x := range w {
			k := y*w + x
			if weight[k] < 1 {
				v[k] = weight[k]*v[k] + (1-weight[k])*bilinear(cv, cw, ch, (float64(x)+0.5)/2-0.5, (float64(y)+0.5)/2-0.5)
			}
		}
	}
}

// settleSmall gives unknown cells of the last level the mean of the known.
func settleSmall(v, weight []float64) {
	sum, n := 0.0, 0.0
	for k := range v {
		sum += weight[k] * v[k]
		n += weight[k]
	}
	for k := range v {
		if weight[k] == 0 && n > 0 {
			v[k] = sum / n
		}
	}
}

func bilinear(v []float64, w, h int, x, y float64) float64 {
	x, y = min(max(x, 0), float64(w-1)), min(max(y, 0), float64(h-1))
	i, j := min(int(x), max(0, w-2)), min(int(y), max(0, h-2))
	i1, j1 := min(i+1, w-1), min(j+1, h-1)
	fx, fy := x-float64(i), y-float64(j)
	a := v[j*w+i]*(1-fx) + v[j*w+i1]*fx
	b := v[j1*w+i]*(1-fx) + v[j1*w+i1]*fx
	return a*(1-fy) + b*fy
}
