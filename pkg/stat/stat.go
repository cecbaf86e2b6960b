// Package stat holds the few robust statistics that measuring needs: quantile, median,
// MAD and Tukey's weight. Values are of any unit; a NaN among them is an error of the
// caller's.
package stat

import (
	"math"
	"slices"
)

// Quantile is the q-quantile (0..1) of v by linear interpolation between order
// statistics; NaN when v is empty. v is left as it is.
func Quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	s := slices.Sorted(slices.Values(v))
	at := q * float64(len(s)-1)
	i := min(int(at), len(s)-1)
	j := min(i+1, len(s)-1)
	return s[i] + (at-float64(i))*(s[j]-s[i])
}

// Median is the 0.5-quantile.
func Median(v []float64) float64 { return Quantile(v, 0.5) }

// NormalMAD scales the median absolute deviation to the standard deviation of normal
// noise, also from the median of its size: half of it lies within Φ⁻¹(3/4) = 0.6745 deviations, and this is the inverse.
const NormalMAD = 1.4826

// MAD is the median absolute deviation from the median, med |v - med v|, scaled by
// NormalMAD to estimate the standard deviation of normal noise; NaN when v is empty.
func MAD(v []float64) float64 {
	m := Median(v)
	d := make([]float64, len(v))
	for i, x := range v {
		d[i] = math.Abs(x - m)
	}
	return NormalMAD * Median(d)
}

// biweightReach is where Tukey's weight ends, in units of the residuals' scale: with it
// a location estimate has 95 % efficiency on normal noise (P. J. Holland, R. E. Welsch,
// Communications in Statistics A6 (1977) 813; from memory). Farther, outliers count
// more; nearer, good readings count less.
const biweightReach = 4.685

// Tukey is the biweight (1 - (u/c)²)² of a residual u in units of its scale: 1 at 0, 0
// from c = biweightReach on.
func Tukey(u float64) float64 {
	u /= biweightReach
	if u <= -1 || u >= 1 {
		return 0
	}
	w := 1 - u*u
	return w * w
}
