package main

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/rehearsal"
)

// The numbers to reach, on a few machines other than those that they are printed for.
func TestAFewMachinesReachTheNumbers(t *testing.T) {
	for _, level := range rehearsal.Levels {
		y := tally{level: level}
		for seed := uint64(2000); seed < 2012; seed++ {
			r, err := loop(seed, level)
			require.NoError(t, err)
			y.runs = append(y.runs, r)
			require.NoError(t, y.hand(seed))
		}
		for _, b := range bounds[level] {
			assert.GreaterOrEqual(t, y.within(b.rounds, b.mm), b.share*0.9, "%s after %d rounds", level, b.rounds)
		}
		assert.Greater(t, y.covered(), 0.9)
		assert.Greater(t, y.handFires, 12*5, "a hand fires at least once at every station")
		assert.Greater(t, y.handGood, 8)
	}
}

func TestTheTableTellsWhatIsNotReached(t *testing.T) {
	y := tally{level: rehearsal.Easy, runs: []run{{worst: []float64{5, 3}, inside: 1, outside: 9}}}
	var out bytes.Buffer
	assert.False(t, y.check(&out))
	assert.Contains(t, out.String(), "not reached, easy: 0 % within 2 mm after 1 rounds")
	assert.Contains(t, out.String(), "10.0 % of the predictions")
}
