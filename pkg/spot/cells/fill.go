package cells

import "math"

// knownWeight is how much of its own value a known cell keeps at the finest
// level of Fill; the rest is its neighbours'. Light is smooth and noise is not:
// a tenth averages the noise of about ten cells away. Chosen, not measured.
const knownWeight = 0.1

// Fill gives every cell of an n x n grid a value: unknown cells, and those that
// are NaN, from the known ones around them, coarse to fine; known cells are
// smoothed (knownWeight). 0 everywhere when none is known.
//
// (Pull and push: each level averages what is known, then hands it down; S.
// Gortler, R. Grzeszczuk, R. Szeliski, M. Cohen, "The lumigraph", SIGGRAPH 96,
// 43; from memory.)
func Fill(values []float64, unknown Set) []float64 {
	n := unknown.N
	weight := make([]float64, n*n)
	v := make([]float64, n*n)
	for k := range values {
		if !unknown.In[k] && !math.IsNaN(values[k]) {
			weight[k], v[k] = knownWeight, values[k]
		}
	}
	pullPush(v, weight, n, n)
	return v
}

// Weights say how far a cell is known, 0 to 1. Going coarser they add up, so that
// four cells known to a quarter each are known as one; a cell that is known fully
// hides the coarser levels below it.

// pullPush fills a w x h grid in place. A cell of weight 1 keeps its value, one
// of weight 0 takes that of the next coarser level, in proportion between.
func pullPush(v, weight []float64, w, h int) {
	if w <= 2 && h <= 2 {
		fillCoarsest(v, weight)
		return
	}
	cw, ch := (w+1)/2, (h+1)/2
	cv, cweight := pulled(v, weight, w, h)
	pullPush(cv, cweight, cw, ch)
	for y := range h {
		for x := range w {
			k := y*w + x
			if weight[k] < 1 {
				// A coarse cell covers two fine ones: fine centre x lies at (x + 1/2)/2 - 1/2.
				v[k] = weight[k]*v[k] + (1-weight[k])*bilinear(cv, cw, ch, (float64(x)+0.5)/2-0.5, (float64(y)+0.5)/2-0.5)
			}
		}
	}
}

// pulled is the next coarser level: the weighted mean of four cells, with the
// sum of their weights, at most 1.
func pulled(v, weight []float64, w, h int) (cv, cweight []float64) {
	cw, ch := (w+1)/2, (h+1)/2
	cv, cweight = make([]float64, cw*ch), make([]float64, cw*ch)
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
	return cv, cweight
}

// fillCoarsest gives unknown cells of the coarsest level the mean of the known,
// Σ w v / Σ w: the level of light over the whole grid, from which every finer level departs
// only where something is known.
func fillCoarsest(v, weight []float64) {
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

// bilinear reads a w x h grid between its cells, at the nearest place on it: with (fx, fy)
// the place's shares between four cells,
//
//	(1-fy) ((1-fx) v00 + fx v10) + fy ((1-fx) v01 + fx v11).
//
// Handed down from level to level it makes a surface without steps.
func bilinear(v []float64, w, h int, x, y float64) float64 {
	x, y = min(max(x, 0), float64(w-1)), min(max(y, 0), float64(h-1))
	i, j := min(int(x), max(0, w-2)), min(int(y), max(0, h-2))
	i1, j1 := min(i+1, w-1), min(j+1, h-1)
	fx, fy := x-float64(i), y-float64(j)
	a := v[j*w+i]*(1-fx) + v[j*w+i1]*fx
	b := v[j1*w+i]*(1-fx) + v[j1*w+i1]*fx
	return a*(1-fy) + b*fy
}
