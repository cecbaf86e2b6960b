package report

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// judged is a station whose burn lies at 12:00 and was judged so.
func judged(name, state string, distance float64) Station {
	m := mark(name+".jpg", "burn", 0, distance, 0.0125)
	m.Verdict = &Verdict{LimitMM: 2, State: state, Probability: 0.5, Rule: "as stated"}
	return Station{Station: name, Burn: m}
}

// The rules as they are written down in the report's format: inside when every
// expected station is inside, outside when one is outside, otherwise
// borderline; incomplete while one is missing.
func TestVerdictOfASet(t *testing.T) {
	gone := refused()
	inA, inB, outB, edgeB := judged("a", "inside", 0.5), judged("b", "inside", 0.7), judged("b", "outside", 3), judged("b", "borderline", 2)
	refusedB, emptyB := Station{Station: "b", Burn: &gone}, Station{Station: "b", Pointer: mark("b.jpg", "pointer", 0, 0, 0.01)}
	ab := []string{"a", "b"}
	for _, c := range []struct {
		name         string
		expected     []string
		stations     []Station
		state, worst string
		text         string
	}{
		{"all inside", ab, []Station{inA, inB}, "inside", "b",
			"All 2 stations are inside the limit of 2 mm. The farthest from the centre is b: 0.700 mm at 12:00."},
		{"one outside", ab, []Station{inA, outB}, "outside", "b",
			"1 of 2 stations is inside the limit of 2 mm; b is outside: 3.000 mm at 12:00."},
		{"one borderline", ab, []Station{inA, edgeB}, "borderline", "b",
			"1 of 2 stations is inside the limit of 2 mm; b is borderline: 2.000 mm at 12:00, 50 % likely inside."},
		{"outside outweighs borderline", ab, []Station{judged("a", "outside", 4), edgeB}, "outside", "a",
			"None of 2 stations is inside the limit of 2 mm; a is outside: 4.000 mm at 12:00; b is borderline: 2.000 mm at 12:00, 50 % likely inside."},
		{"both outside", ab, []Station{judged("a", "outside", 4), outB}, "outside", "a",
			"None of 2 stations is inside the limit of 2 mm; a (4.000 mm at 12:00) and b (3.000 mm at 12:00) are outside."},
		{"one not there", ab, []Station{inA}, "incomplete", "a",
			"1 of 2 stations is not measured: b. The one measured station is inside the limit of 2 mm."},
		{"one refused", ab, []Station{inA, refusedB}, "incomplete", "a",
			"1 of 2 stations is not measured: b. The one measured station is inside the limit of 2 mm."},
		{"one with the pointer only", ab, []Station{inA, emptyB}, "incomplete", "a",
			"1 of 2 stations is not measured: b. The one measured station is inside the limit of 2 mm."},
		{"missing outweighs outside", []string{"a", "c", "b"}, []Station{inA, outB}, "incomplete", "b",
			"1 of 3 stations is not measured: c. 1 of 2 measured stations is inside the limit of 2 mm; b is outside: 3.000 mm at 12:00."},
		{"missing, one outside", ab, []Station{outB}, "incomplete", "b",
			"1 of 2 stations is not measured: a. The one measured station is not inside the limit of 2 mm; b is outside: 3.000 mm at 12:00."},
		{"none measured", ab, []Station{refusedB}, "incomplete", "", "No station has a measured burn."},
		{"nothing", nil, nil, "incomplete", "", "No station has a measured burn."},
		{"one beyond the expected is outside", []string{"a"}, []Station{inA, outB}, "outside", "b",
			"1 of 2 stations is inside the limit of 2 mm; b, which was not asked for, is outside: 3.000 mm at 12:00."},
		{"two beyond the expected are outside", []string{"a"}, []Station{inA, outB, judged("c", "outside", 4)}, "outside", "c",
			"1 of 3 stations is inside the limit of 2 mm; b, which was not asked for (3.000 mm at 12:00) and c, which was not asked for (4.000 mm at 12:00) are outside."},
		{"one beyond the expected is borderline", []string{"a"}, []Station{inA, edgeB}, "inside", "b",
			"1 of 2 stations is inside the limit of 2 mm; b, which was not asked for, is borderline: 2.000 mm at 12:00, 50 % likely inside."},
		{"one beyond the expected is not measured", []string{"a"}, []Station{inA, refusedB}, "inside", "a",
			"The one station is inside the limit of 2 mm."},
		{"none expected", nil, []Station{inA, edgeB}, "borderline", "b",
			"1 of 2 stations is inside the limit of 2 mm; b is borderline: 2.000 mm at 12:00, 50 % likely inside."},
		{"none expected, one refused", nil, []Station{inA, refusedB}, "incomplete", "a",
			"1 of 2 stations is not measured: b. The one measured station is inside the limit of 2 mm."},
		{"at the centre", []string{"a"}, []Station{judged("a", "outside", 0)}, "outside", "a",
			"The one station is not inside the limit of 2 mm; a is outside: 0.000 mm."},
	} {
		got := Judge(c.expected, c.stations)
		assert.Equal(t, SetVerdict{c.state, c.worst, c.text}, got, c.name)
	}
}

// The order of the stations must not matter for the verdict: every way of
// sorting five stations of the three states, one of them missing or not.
func TestVerdictDoesNotDependOnTheOrder(t *testing.T) {
	expected := []string{"a", "b", "c"}
	states := []string{"inside", "outside", "borderline", ""}
	orders := [][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}}
	for code := range 4 * 4 * 4 {
		var stations [3]Station
		for i, name := range expected {
			stations[i] = Station{Station: name}
			if state := states[code>>(2*i)&3]; state != "" {
				stations[i] = judged(name, state, float64(i+1))
			}
		}
		want := Judge(expected, stations[:])
		for _, o := range orders {
			shuffled := []Station{stations[o[0]], stations[o[1]], stations[o[2]]}
			require.Equal(t, want, Judge(expected, shuffled))
		}
	}
}

func TestVerdictInInches(t *testing.T) {
	r := &Report{Expected: []string{"b"}, Stations: []Station{judged("b", "outside", 2.54)}}
	r.Judge()
	assert.Equal(t, "outside", r.Verdict.State)
	assert.Equal(t, "The one station is not inside the limit of 2 mm; b is outside: 2.540 mm at 12:00.", r.VerdictText(Millimetres))
	assert.Equal(t, "The one station is not inside the limit of 0.0787 in; b is outside: 0.1000 in at 12:00.", r.VerdictText(Inches))
	r.Verdict = SetVerdict{State: "inside", Text: "judged by other rules"}
	assert.Equal(t, "judged by other rules", r.VerdictText(Inches))
}
