package report

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Results of JCGM 100:2008 before rounding, and as they are published. H.1: GTC
// documentation, GUM_H1. H.2: GTC type_a.py prints 219.85(30) and 254.26(24);
// the guide's own annex prints three digits there. H.3: GTC GUM_H3.py. Rows
// marked [M] are from memory of 7.2.6 and were not seen.
func TestFormatPrintsTheGuidesExamplesAsPublished(t *testing.T) {
	cases := []struct {
		source   string
		value, u float64
		want     string
	}{
		{"H.1 end gauge, nm", 50000838, 31.66, "50000838 ± 32"},
		{"H.1 with second order, nm", 50000838, 33.81, "50000838 ± 34"},
		{"H.2 resistance, ohm", 127.732170, 0.071071, "127.732 ± 0.071"},
		{"H.2 reactance, ohm", 219.846512, 0.295582, "219.85 ± 0.30"},
		{"H.2 impedance, ohm", 254.259702, 0.236336, "254.26 ± 0.24"},
		{"H.3 intercept, C", -0.17120379, 0.00287760, "-0.1712 ± 0.0029"},
		{"H.3 slope", 0.00218270, 0.00066794, "0.00218 ± 0.00067"},
		{"H.3 correction at 30 C", -0.14937681, 0.00413860, "-0.1494 ± 0.0041"},
		{"7.2.6 [M], ohm", 10.05762, 0.027, "10.058 ± 0.027"},
		{"7.2.6 [M], kHz", 1234.56, 28.05, "1235 ± 28"},
	}
	for _, c := range cases {
		assert.Equal(t, c.want, Format(c.value, c.u), c.source)
	}
}

// Worked by hand.
func TestFormatAtItsEdges(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	cases := []struct {
		value, u float64
		want     string
	}{
		{-0.44, 0.03, "-0.440 ± 0.030"},
		{0.97, 0.0996, "0.97 ± 0.10"}, // two digits of 0.0996 are 0.10
		{0.97, 0.0994, "0.970 ± 0.099"},
		{1.0049, 0.99, "1.00 ± 0.99"},
		{12345, 123, "12340 ± 120"}, // a half: to the even ten
		{12346, 123, "12350 ± 120"},
		{-0.0004, 0.03, "0.000 ± 0.030"}, // no minus before nothing
		{-3, 1200, "0 ± 1200"},
		{0, 0.03, "0.000 ± 0.030"},
		{0.125, 0.10, "0.12 ± 0.10"}, // a half: to the even digit
		{0.375, 0.10, "0.38 ± 0.10"},
		{0.97, 0, "0.97 ± unknown"},
		{0.97, -1, "0.97 ± unknown"},
		{0.97, nan, "0.97 ± unknown"},
		{0.97, inf, "0.97 ± unknown"},
		{nan, 0.03, "unknown"},
		{inf, 0.03, "unknown"},
		{math.Copysign(0, -1), 0, "0 ± unknown"},
	}
	for _, c := range cases {
		assert.Equal(t, c.want, Format(c.value, c.u), "%g, %g", c.value, c.u)
	}
}

func TestRoundLeavesWhatHasNoUncertainty(t *testing.T) {
	for _, u := range []float64{0, -1, math.Inf(1)} {
		value, gotU := Round(0.123456, u)
		assert.Equal(t, 0.123456, value)
		assert.Equal(t, u, gotU)
	}
	value, u := Round(math.NaN(), 0.0312)
	assert.True(t, math.IsNaN(value))
	assert.Equal(t, 0.0312, u)
	value, u = Round(0.123456, math.NaN())
	assert.Equal(t, 0.123456, value)
	assert.True(t, math.IsNaN(u))
}

// Over twelve decades: rounding moves the value by at most half a unit of the
// uncertainty's second digit, that is 5 % of it, and rounding again changes
// nothing, and the text says the number.
func TestRoundMovesLittleAndOnlyOnce(t *testing.T) {
	const halfUnit = 0.05 * (1 + 1e-9)
	random := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		u := math.Pow(10, random.Float64()*12-6)
		value := (random.Float64() - 0.5) * u * 1e4
		gotValue, gotU := Round(value, u)
		require.LessOrEqual(t, math.Abs(gotValue-value), halfUnit*u, "%g ± %g", value, u)
		require.LessOrEqual(t, math.Abs(gotU-u), halfUnit*u, "%g", u)
		againValue, againU := Round(gotValue, gotU)
		require.InEpsilon(t, 1+gotValue, 1+againValue, 1e-12, "%g ± %g", value, u)
		require.InEpsilon(t, gotU, againU, 1e-12)
		printed, err := strconv.ParseFloat(FormatValue(value, u), 64)
		require.NoError(t, err)
		require.InDelta(t, gotValue, printed, 1e-9*u)
	}
}

func TestRoundDoesNotCareForTheSign(t *testing.T) {
	for _, value := range []float64{0.0149, 0.015, 0.985, 123.455} {
		there, _ := Round(value, 0.11)
		back, _ := Round(-value, 0.11)
		assert.Equal(t, there, -back)
	}
}
