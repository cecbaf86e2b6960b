package main

import (
	"bytes"
	"math"
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/plan"
	"burngauge.dev/burngauge/pkg/rehearsal"
)

// The real loop on the first machines of the default seeds: the bounds are those that
// the command checks.
func TestAFewMachinesReachTheBounds(t *testing.T) {
	const machines = 12
	for _, level := range rehearsal.Levels {
		y := &tally{level: level}
		for seed := uint64(firstSeed); seed < firstSeed+machines; seed++ {
			require.NoError(t, y.add(seed, plan.DefaultSettings()))
		}
		assert.Empty(t, y.misses(), level)
		for _, h := range y.hands {
			assert.GreaterOrEqual(t, h.fires, 5, "a hand fires at least once at every station")
		}
	}
}

// A planner that takes every screw for exact is wrong on the hard machines, so that
// the bounds fail: its radii are too small.
func TestTheBoundsCanFail(t *testing.T) {
	settings := plan.DefaultSettings()
	require.NoError(t, set(&settings, "Prior.Gain=0.001"))
	require.NoError(t, set(&settings, "Prior.Length=0.0001"))
	y := &tally{level: rehearsal.Hard}
	for seed := uint64(firstSeed); seed < firstSeed+4; seed++ {
		require.NoError(t, y.add(seed, settings))
	}
	assert.NotEmpty(t, y.misses())
}

func TestTheTableNamesWhatIsNotReached(t *testing.T) {
	y := tally{level: rehearsal.Easy, runs: []run{{worst: []float64{5, 3}, inside: 1, outside: 9}}}
	var out bytes.Buffer
	assert.False(t, y.check(&out))
	assert.Contains(t, out.String(), "not reached, easy: 0 % within 2 mm after 1 rounds")
	assert.Contains(t, out.String(), "10.0 % of the predictions")
}

func TestTheTableSaysWhatItsReadingsAre(t *testing.T) {
	var out bytes.Buffer
	_, err := table(&out, options{from: 5, to: 5, settings: plan.DefaultSettings()})
	require.NoError(t, err)
	assert.Contains(t, out.String(), "seeds 5 to 5")
	assert.Contains(t, out.String(), "0.02 mm of noise on each axis, not photos")
}

func TestSettingsAreSetByName(t *testing.T) {
	s := plan.DefaultSettings()
	require.NoError(t, set(&s, "Turn.FirstCaution=0.5"))
	require.NoError(t, set(&s, "Search.MinimaxPasses=3"))
	assert.Equal(t, 0.5, s.Turn.FirstCaution)
	assert.Equal(t, 3, s.Search.MinimaxPasses)
	for _, wrong := range []string{"", "Turn", "Turn.FirstCaution", "Turn.Nothing=1", "Nothing.FirstCaution=1", "Turn.FirstCaution=x", "Search.MinimaxPasses=1.5"} {
		assert.Error(t, set(&s, wrong), wrong)
	}
}

// The hand's rounds: what it had done before it stopped stays.
func TestAHandThatIsDoneStaysWhereItIs(t *testing.T) {
	h := handRun{worst: []float64{4, 1}}
	assert.Equal(t, 4.0, h.after(0))
	assert.Equal(t, 1.0, h.after(3))
	r, err := byHand(3, rehearsal.Easy)
	require.NoError(t, err)
	assert.False(t, math.IsNaN(r.after(1)))
	assert.LessOrEqual(t, len(r.worst), cycles+1)
}

// What the settings' comments say to run can be run.
func TestTheSettingsThatCommentsNameExist(t *testing.T) {
	named := regexp.MustCompile(`-set (\w+\.\w+=[0-9.]+)`)
	count := 0
	for _, path := range []string{"../../pkg/plan/settings.go", "../../pkg/plan/search/settings.go"} {
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		for _, m := range named.FindAllStringSubmatch(string(text), -1) {
			s := plan.DefaultSettings()
			assert.NoError(t, set(&s, m[1]))
			count++
		}
	}
	assert.GreaterOrEqual(t, count, 4)
}
