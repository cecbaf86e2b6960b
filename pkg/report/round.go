package report

import (
	"math"
	"strconv"
	"strings"
)

// significant is how many digits of an uncertainty are printed. JCGM 100:2008,
// 7.2.6: at most two are usually enough, and the estimate is rounded to be
// consistent with them.
const significant = 2

// Round is the one rounding of a number with an uncertainty, both in the same
// unit: u to two significant digits, to the nearest, and value to the same
// decimal place (JCGM 100:2008, 7.2.6). Halves go to the even digit.
//
// Where u is no uncertainty (0, negative, NaN, infinite) or value is not a
// finite number there is nothing to round to: both come back as they are.
func Round(value, u float64) (roundedValue, roundedU float64) {
	if !hasUncertainty(u) || !finite(value) {
		return value, u
	}
	places := decimals(u)
	return roundTo(value, places), roundTo(u, places)
}

// Format is value and uncertainty as text without a unit, rounded by Round:
// "0.970 ± 0.030". Without an uncertainty it is "0.97 ± unknown", and for a
// value that is not finite "unknown".
func Format(value, u float64) string {
	if !finite(value) {
		return "unknown"
	}
	if !hasUncertainty(u) {
		return shortest(value) + " ± unknown"
	}
	return FormatValue(value, u) + " ± " + FormatValue(u, u)
}

// FormatValue is the value alone, rounded to fit its uncertainty by Round, with
// the zeros that say so: "-0.440" for u = 0.030. Cases as for Format.
func FormatValue(value, u float64) string {
	if !finite(value) {
		return "unknown"
	}
	if !hasUncertainty(u) {
		return shortest(value)
	}
	places := decimals(u)
	return unsigned(strconv.FormatFloat(roundTo(value, places), 'f', max(places, 0), 64))
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func hasUncertainty(u float64) bool { return u > 0 && finite(u) }

// decimals is the decimal place, counted to the right of the point, of the last
// digit that is kept of u. It is taken after rounding: 0.0996 is printed as 0.10.
func decimals(u float64) int {
	text := strconv.FormatFloat(u, 'e', significant-1, 64) // "9.9e-02"
	_, exponent, _ := strings.Cut(text, "e")
	power, _ := strconv.Atoi(exponent) // our own formatting: cannot fail
	return significant - 1 - power
}

// roundTo rounds to a number of decimal places, which may be negative: -2 is to
// hundreds. The decimal text is rounded, not a product that is itself inexact.
func roundTo(v float64, places int) float64 {
	if places < 0 {
		step := math.Pow10(-places)
		return math.RoundToEven(v/step) * step
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'f', places, 64), 64)
	return rounded + 0 // -0 becomes 0
}

// shortest is the number with as many digits as give it exactly.
func shortest(v float64) string { return unsigned(strconv.FormatFloat(v, 'f', -1, 64)) }

// unsigned takes the sign from a zero.
func unsigned(text string) string {
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}
