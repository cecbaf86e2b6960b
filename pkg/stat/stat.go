// Package stat holds the few robust statistics that measuring needs.
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

// MAD is the median absolute deviation from the median, scaled to estimate
// the standard deviation of normal noise (1.4826 = 1/Φ⁻¹(3/4)).
func MAD(v []float64) float64 {
	m := Median(v)
	d := make([]float64, len(v))
	for i, x := range v {
		d[i] = math.Abs(x - m)
	}
	return 1.4826 * Median(d)
}

// Tukey is the biweight of a residual in units of its scale: 1 at 0, 0 beyond
// 4.685 (95 % efficiency on normal noise).
func Tukey(u float64) float64 {
	u /= 4.685
	if u <= -1 || u >= 1 {
		return 0
	}
	w := 1 - u*u
	return w * w
}
