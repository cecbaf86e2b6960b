package cells

import "math"

// BoxMean is the mean over squares of half width h cells, cut off at the grid's
// border, NaN cells left out; NaN where none is known.
//
// With S(x, y) the sum of all cells left of x and below y, the sum over a box is
// S(x1, y1) - S(x0, y1) - S(x1, y0) + S(x0, y0) (a summed-area table: F. Crow,
// SIGGRAPH 84, 207; from memory).
func BoxMean(v []float64, n, h int) []float64 {
	w := n + 1
	sum, count := make([]float64, w*w), make([]float64, w*w)
	for j := range n {
		for i := range n {
			k := (j+1)*w + i + 1
			sum[k] = sum[k-1] + sum[k-w] - sum[k-w-1]
			count[k] = count[k-1] + count[k-w] - count[k-w-1]
			if x := v[j*n+i]; !math.IsNaN(x) {
				sum[k] += x
				count[k]++
			}
		}
	}
	out := make([]float64, n*n)
	for j := range n {
		for i := range n {
			x0, x1, y0, y1 := max(i-h, 0), min(i+h+1, n), max(j-h, 0), min(j+h+1, n)
			box := func(s []float64) float64 { return s[y1*w+x1] - s[y0*w+x1] - s[y1*w+x0] + s[y0*w+x0] }
			out[j*n+i] = math.NaN()
			if known := box(count); known > 0 {
				out[j*n+i] = box(sum) / known
			}
		}
	}
	return out
}
