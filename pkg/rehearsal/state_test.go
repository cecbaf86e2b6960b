package rehearsal

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/machine"
)

// used is a bench that has been worked on.
func used(t testing.TB) *Bench {
	b, err := NewBench(machine.Default(), 9, Hard)
	require.NoError(t, err)
	b.NoteFire([]string{"middle"})
	require.NoError(t, b.TurnAll([]Turn{{"1", "A", 0.3}, {"1", "A", -0.1}, {"3", "C", -0.02}}))
	return b
}

func TestABenchComesBackAsItWas(t *testing.T) {
	b := used(t)
	var first, again bytes.Buffer
	require.NoError(t, b.Save(&first, machine.StarterYAML()))
	got, profile, err := Restore(bytes.NewReader(first.Bytes()))
	require.NoError(t, err)
	assert.Equal(t, machine.StarterYAML(), profile)
	assert.Equal(t, b.Spots(), got.Spots(), "to the last bit: also the play is as it was")
	assert.Equal(t, b.PointerSpots(), got.PointerSpots())
	assert.Equal(t, b.Round(), got.Round())
	require.NoError(t, got.Save(&again, profile))
	assert.Equal(t, first.String(), again.String())
}

// Formats of before had no tape: such a bench comes back without one.
func TestABenchFromBeforeItHadTapeComesBackWithoutOne(t *testing.T) {
	b := used(t)
	require.Positive(t, b.Hidden.TapeMM)
	b.Hidden.TapeMM = 0
	var saved bytes.Buffer
	require.NoError(t, b.Save(&saved, machine.StarterYAML()))
	require.NotContains(t, saved.String(), "tape_mm")
	again, _, err := Restore(&saved)
	require.NoError(t, err)
	assert.Equal(t, b.Hidden, again.Hidden)
}

// Mean 0.12, standard deviation 0.04, above 0: cut off at three standard deviations on one
// side, both move by 0.4 and 1.3 % of a standard deviation only. The trial's own standard
// deviations are s/√n and s/√(2n).
func TestBenchesDrawTheirTapeAsMaskingTapeIs(t *testing.T) {
	const n = 4000
	sum, squares := 0.0, 0.0
	for seed := range uint64(n) {
		mm := drawTape(seed)
		require.Positive(t, mm)
		sum, squares = sum+mm, squares+mm*mm
	}
	mean := sum / n
	assert.InDelta(t, 0.12, mean, 0.04*(0.004+4/math.Sqrt(n)))
	assert.InDelta(t, 0.04, math.Sqrt(squares/n-mean*mean), 0.04*(0.013+4/math.Sqrt(2*n)))
}

func TestRoundsRiseWhenScrewsWereTurned(t *testing.T) {
	b := starter(nil)
	assert.Equal(t, 1, b.Round())
	b.NoteFire([]string{"middle"})
	assert.Equal(t, 1, b.Round())
	b.NoteFire([]string{"rear-left"})
	require.NoError(t, b.Turn("1", "A", 0.1))
	require.NoError(t, b.Turn("1", "B", 0.1))
	assert.Equal(t, 2, b.Round())
	b.NoteFire([]string{"middle"})
	assert.Equal(t, 2, b.Round())
	assert.Len(t, b.Fires(), 3)
}

func TestWhatIsNoBenchIsRefused(t *testing.T) {
	var whole bytes.Buffer
	require.NoError(t, used(t).Save(&whole, machine.StarterYAML()))
	text := whole.String()
	swap := func(old, new string) string {
		require.Contains(t, text, old)
		return strings.Replace(text, old, new, 1)
	}
	for name, c := range map[string]struct{ text, says string }{
		"cut":     {text[:len(text)/2], "not a bench"},
		"schema":  {swap("rehearse.bench/1", "rehearse.bench/2"), "another version"},
		"machine": {swap("pitch_mm: 0.5", "pitch_mm: 0"), "pitch_mm"},
		"travel":  {swap(`"turns": 0.3`, `"turns": 30`), "cannot be made again"},
		"level":   {swap(`"level": "hard"`, `"level": "soft"`), "soft"},
		"legs":    {swap(`"legs": [`, `"legs": [1,`), "5 legs"},
		"tape":    {swap(`"tape_mm": 0`, `"tape_mm": 70`), "tape 70"},
		"gain":    {swap(`"gain": [`, `"gain": [0,`), "impossible screw"},
	} {
		_, _, err := Restore(strings.NewReader(c.text))
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), c.says, name)
	}
}

// FuzzRestore: a strange file is refused or gives a bench whose spots can be traced.
func FuzzRestore(f *testing.F) {
	var whole bytes.Buffer
	require.NoError(f, used(f).Save(&whole, machine.StarterYAML()))
	f.Add(whole.Bytes())
	f.Add([]byte(`{"schema":"rehearse.bench/1"}`))
	f.Add(whole.Bytes()[:whole.Len()/2])
	f.Fuzz(func(t *testing.T, data []byte) {
		b, _, err := Restore(bytes.NewReader(data))
		if err == nil {
			require.Len(t, b.Spots(), len(b.Profile.Stations))
		}
	})
}

func TestReadPlanTakesTheTurnsOnly(t *testing.T) {
	plan, err := ReadPlan(strings.NewReader(`{"schema":"mirrorplan.plan/1","machine":"bed","status":"turn","report":"abc",
		"turns":[{"mirror":"1","screw":"A","turns":-0.25,"direction":"anticlockwise"},{"mirror":"2","screw":"C","turns":0.03125}],
		"predicted":[{"station":"middle"}],"findings":[],"cautions":["..."]}`))
	require.NoError(t, err)
	assert.Equal(t, Plan{"bed", "turn", []Turn{{"1", "A", -0.25}, {"2", "C", 0.03125}}}, plan)
	plan, err = ReadPlan(strings.NewReader(`{"schema":"mirrorplan.plan/1","machine":{"name":"bed"},"status":"nothing-to-do"}`))
	require.NoError(t, err)
	assert.Empty(t, plan.Turns)
	assert.Equal(t, "bed", plan.Machine)
}

func TestReadPlanRefusesOtherFiles(t *testing.T) {
	for text, says := range map[string]string{
		"":                                "not a plan",
		"[]":                              "not a plan",
		`{"schema":"burngauge.report/1"}`: `"burngauge.report/1", not mirrorplan.plan/1`,
		`{"schema":"mirrorplan.plan/2"}`:  "mirrorplan.plan/2",
		`{"schema":"mirrorplan.plan/1","turns":[{"turns":1}]}`:                              "turns[0]",
		`{"schema":"mirrorplan.plan/1","turns":[{"mirror":"1","screw":"A","turns":"few"}]}`: "not a plan",
		`{"schema":"mirrorplan.plan/1","turns":[{"mirror":"1","screw":"A","turns":1e999}]}`: "not a plan",
	} {
		_, err := ReadPlan(strings.NewReader(text))
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), says)
	}
}

// FuzzReadPlan: what is read can be tried on a machine without a panic.
func FuzzReadPlan(f *testing.F) {
	f.Add([]byte(`{"schema":"mirrorplan.plan/1","turns":[{"mirror":"1","screw":"A","turns":-0.25}]}`))
	f.Add([]byte(`{"schema":"mirrorplan.plan/1","machine":{"name":3},"turns":null}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		plan, err := ReadPlan(bytes.NewReader(data))
		if err == nil {
			b := starter(nil)
			if b.TurnAll(plan.Turns) == nil {
				require.Len(t, b.Spots(), 5)
			}
		}
	})
}

func TestParseScrew(t *testing.T) {
	mirror, screw, err := ParseScrew("mirror 1/A")
	require.NoError(t, err)
	assert.Equal(t, [2]string{"mirror 1", "A"}, [2]string{mirror, screw})
	_, _, err = ParseScrew("1A")
	assert.ErrorContains(t, err, `like "mirror 1/A"`)
}
