package target

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sound is a whole spec without a fault; the cases below change one thing.
const sound = `name: mine
rings_mm: [4, 8]
rings_u_mm: 0.02
line_mm: 0.30
cross_mm: 1.4
rim_mm: 20
index: {from_mm: 0.7, to_mm: 3.2, width_mm: 1.3}
tape_mm: 0.13
tape_u_mm: 0.03
checked: "steel rule, 2026-03"
`

// with replaces one part of the sound spec.
func with(old, new string) string {
	if !strings.Contains(sound, old) {
		panic("not in the sound spec: " + old)
	}
	return strings.Replace(sound, old, new, 1)
}

// faults are specs that must be refused: the place that the message must start
// with and what it must say.
var faults = []struct{ yaml, place, says string }{
	{"", ": name: ", "missing"},
	{"\xff\xfe", ": ", "UTF-8"},
	{"- 1", ":1:1: ", "a spec is a list of keys"},
	{"a: [", ":1:4: ", ""},
	{with("line_mm", "line"), ":4:1: line: ", "no such key"},
	{with("to_mm", "until_mm"), ":7:23: until_mm: ", "index has from_mm, to_mm, width_mm"},
	{with("name: mine", "name: mine\nname: other"), ":2:1: ", `key "name" already defined`},
	{with("name: mine\n", ""), ": name: ", "missing"},
	{with("name: mine", `name: "a\nb"`), ":1:7: name: ", "cannot be printed"},
	{with("mine", strings.Repeat("x", 41)), ":1:7: name: ", "longer than 40"},
	{with("mine", "[1]"), ":1:7: name: ", "text"},
	{with("mine", "&x mine"), ":1:7: ", "anchors"},
	{with("mine", "!!str mine"), ":1:7: ", "anchors, aliases and tags"},
	{sound + "---\n" + sound, ":11:1: ", "only one target spec to a file"},
	{with("[4, 8]", "4"), ":2:11: rings_mm: ", "list of diameters"},
	{with("[4, 8]", "[]"), ":2:11: rings_mm: ", "missing"},
	{with("[4, 8]", "[four, 8]"), ":2:12: rings_mm[0]: ", "plain number"},
	{with("[4, 8]", "[.nan, 8]"), ":2:12: rings_mm[0]: ", "NaN"},
	{with("[4, 8]", "[4, .inf]"), ":2:15: rings_mm[1]: ", "+Inf"},
	{with("[4, 8]", "[0, 8]"), ":2:12: rings_mm[0]: ", "above 0"},
	{with("[4, 8]", "[-4, 8]"), ":2:12: rings_mm[0]: ", "above 0"},
	{with("[4, 8]", "[8, 4]"), ":2:15: rings_mm[1]: ", "smallest first"},
	{with("[4, 8]", "[4, 4]"), ":2:15: rings_mm[1]: ", "each once"},
	{with("[4, 8]", "[4, 4000]"), ":2:15: rings_mm[1]: ", "up to 1000"},
	{with("[4, 8]", "["+strings.Repeat("1, ", 32)+"2]"), ":2:11: rings_mm: ", "at most 32"},
	{with("[4, 8]", strings.Repeat("[", 17)), ":2:27: ", "nested too deep"},
	{with("rings_u_mm: 0.02", "rings_u_mm: 0"), ":3:13: rings_u_mm: ", "above 0"},
	{with("rings_u_mm: 0.02\n", ""), ": rings_u_mm: ", "above 0"},
	{with("rings_u_mm: 0.02", "rings_u_mm: 20"), ":3:13: rings_u_mm: ", "radius"},
	{with("0.30", "-0.30"), ":4:10: line_mm: ", "above 0"},
	{with("0.30", ".nan"), ":4:10: line_mm: ", "NaN"},
	{with("0.30", "2"), ":4:10: line_mm: ", "between rings"},
	{with("4, 8]", "4, 4.1]"), ":4:10: line_mm: ", "gap of 0.05 mm"},
	{with("0.30", "1e400"), ":4:10: line_mm: ", "plain number"},
	{with("0.30", "yes"), ":4:10: line_mm: ", "plain number"},
	{with("1.4", "-1"), ":5:11: cross_mm: ", "no cross"},
	{with("1.4", "4.1"), ":5:11: cross_mm: ", "outer ring"},
	{with("20\n", "8.3\n"), ":6:9: rim_mm: ", "write 0"},
	{with("20\n", "-.inf\n"), ":6:9: rim_mm: ", "write 0"},
	{with("20\n", "14\n"), ":7:30: index.to_mm: ", "outside the rim"},
	{with("{from_mm: 0.7, to_mm: 3.2, width_mm: 1.3}", "3"), ":7:8: index: ", "write the bar"},
	{with("from_mm: 0.7", "from_mm: 0.1"), ":7:18: index.from_mm: ", "outer ring's line"},
	{with("from_mm: 0.7", "from_mm: 3.2"), ":7:30: index.to_mm: ", "beyond from_mm"},
	{with("width_mm: 1.3", "width_mm: 0"), ":7:45: index.width_mm: ", "above 0"},
	{with("index: {from_mm: 0.7, to_mm: 3.2, width_mm: 1.3}\n", ""), ": index.from_mm: ", "where the bar starts"},
	{with("0.13", ".inf"), ":8:10: tape_mm: ", "from 0 to 5"},
	{with("0.13", "-0.1"), ":8:10: tape_mm: ", "from 0 to 5"},
	{with("0.03", "-0.1"), ":9:12: tape_u_mm: ", "from 0 to 5"},
	{with("0.03", ".nan"), ":9:12: tape_u_mm: ", "NaN"},
	{with("tape_mm: 0.13\ntape_u_mm: 0.03", "tape_u_mm: 6"), ":8:12: tape_u_mm: ", "from 0 to 5"},
}

func TestParseReadsEveryKey(t *testing.T) {
	spec, err := Parse("mine.yaml", []byte(sound))
	require.NoError(t, err)
	assert.Equal(t, Spec{
		Name: "mine", RingsMM: []float64{4, 8}, RingsUMM: 0.02, LineMM: 0.3, CrossMM: 1.4, RimMM: 20,
		Index: Index{FromMM: 0.7, ToMM: 3.2, WidthMM: 1.3}, TapeMM: 0.13, TapeUMM: 0.03, Checked: "steel rule, 2026-03",
	}, spec)
	assert.NoError(t, spec.Check())
}

// The format's own words: tape_mm left out is 0.12; tape_u_mm left out is 0.04, or 0 where
// tape_mm is 0.
func TestTapeThatIsLeftOutIsMaskingTapeAndZeroIsNone(t *testing.T) {
	const stated = "tape_mm: 0.13\ntape_u_mm: 0.03\n"
	for text, want := range map[string][2]float64{
		"":                              {0.12, 0.04},
		"tape_mm:\n":                    {0.12, 0.04},
		"tape_mm: 0\n":                  {0, 0},
		"tape_mm: 0.0\ntape_u_mm:\n":    {0, 0},
		"tape_mm: 0\ntape_u_mm: 0.01\n": {0, 0.01},
		"tape_mm: 0.2\n":                {0.2, 0.04},
		"tape_mm: 0.2\ntape_u_mm: 0\n":  {0.2, 0},
		"tape_u_mm: 0.05\n":             {0.12, 0.05},
		stated:                          {0.13, 0.03},
	} {
		spec, err := Parse("mine.yaml", []byte(with(stated, text)))
		require.NoError(t, err, text)
		assert.Equal(t, want, [2]float64{spec.TapeMM, spec.TapeUMM}, text)
	}
}

// 4, 8 and so on to 128 mm: exactly as many rings as are allowed.
func TestThirtyTwoRingsAreAllowed(t *testing.T) {
	spec := Default()
	spec.RingsMM = nil
	for d := 4.0; d <= 128; d += 4 {
		spec.RingsMM = append(spec.RingsMM, d)
	}
	require.Len(t, spec.RingsMM, maxRings)
	assert.NoError(t, spec.Check())
}

func TestCheckNamesTheKeyOfASpecThatWasNotRead(t *testing.T) {
	spec := Default()
	spec.LineMM = math.NaN()
	var fault *SpecError
	require.True(t, errors.As(spec.Check(), &fault))
	assert.Equal(t, "line_mm", fault.Key)
}

// FuzzParse: no input may panic, every error is a SpecError of one line, and a
// spec that passes obeys the rules that others build on.
func FuzzParse(f *testing.F) {
	f.Add([]byte(sound))
	for _, c := range faults {
		f.Add([]byte(c.yaml))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		spec, err := Parse("fuzz.yaml", data)
		if err != nil {
			var fault *SpecError
			require.True(t, errors.As(err, &fault))
			require.NotContains(t, err.Error(), "\n")
			return
		}
		previous := 0.0
		for _, d := range spec.RingsMM {
			require.Greater(t, d, previous)
			previous = d
		}
		require.Less(t, spec.LineMM, spec.RingsMM[0])
		require.InDelta(t, float64(len(spec.RingsMM)), spec.Rings(spec.OuterRadius()), 1e-9)
		for _, v := range []float64{spec.RingsUMM, spec.LineMM, spec.CrossMM, spec.RimMM, spec.TapeMM, spec.TapeUMM, spec.Index.FromMM, spec.Index.ToMM, spec.Index.WidthMM} {
			require.True(t, v >= 0 && v <= maxRingMM)
		}
	})
}
