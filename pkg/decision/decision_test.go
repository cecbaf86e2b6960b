package decision_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/decision"
)

// Truth by construction: 0.2 > 0.18 holds, 0.1 > 0.18 does not, NaN is neither.
func TestALogChangesNoComparison(t *testing.T) {
	for _, log := range []*decision.Log{nil, decision.NewLog()} {
		assert.True(t, log.Above("search.Most", 0.2, 0.18, "refused"))
		assert.False(t, log.Above("search.Most", 0.1, 0.18, "refused"))
		assert.False(t, log.Above("search.Most", math.NaN(), 0.18, "refused"))
		assert.True(t, log.Below("search.Least", 0.1, 0.18, "refused"))
		assert.False(t, log.Below("search.Least", math.NaN(), 0.18, "refused"))
		tally := log.Tally("search.Least", decision.Below, 3, "left out")
		assert.True(t, tally.Below(2, 3))
		assert.False(t, tally.Below(3, 3))
		tally.Record()
	}
	assert.Nil(t, (*decision.Log)(nil).Decisions())
}

func TestDecisionsStandInTheirOrderWithTheirSubject(t *testing.T) {
	log := decision.NewLog()
	log.Above("search.Most", 0.2, 0.18, "refused: glare")
	log.About(decision.Place{X: 3, Y: 4}, "frame %d", 2).Below("search.Least", 5, 1, "dropped")
	list := log.Decisions()
	require.Len(t, list, 2)
	assert.Equal(t, decision.Decision{Name: "search.Most", Value: 0.2, Test: ">", Limit: 0.18, Holds: true, Then: "refused: glare", Of: 1, Holding: 1}, list[0])
	assert.Equal(t, decision.Decision{Name: "search.Least", About: "frame 2", At: &decision.Place{X: 3, Y: 4}, Value: 5, Test: "<", Limit: 1, Then: "dropped", Of: 1}, list[1])
}

func TestATallyCountsAndKeepsTheNearestValue(t *testing.T) {
	log := decision.NewLog()
	tally := log.Tally("search.Least", decision.Below, 10, "left out")
	for _, v := range []float64{1, 12, 9, math.NaN(), 30} {
		tally.Below(v, 10)
	}
	tally.Record()
	log.Tally("search.Least", decision.Below, 10, "left out").Record() // nothing was compared
	list := log.Decisions()
	require.Len(t, list, 1)
	assert.Equal(t, 5, list[0].Of)
	assert.Equal(t, 2, list[0].Holding)
	assert.Equal(t, 9.0, list[0].Value)
	assert.True(t, list[0].Holds)
}

func TestATallyDoesNotDependOnOrder(t *testing.T) {
	values := []float64{8, 12, 9.5, 10.5, 3}
	var first decision.Decision
	for turn := range values {
		log := decision.NewLog()
		tally := log.Tally("search.Most", decision.Above, 10, "kept")
		for i := range values {
			tally.Above(values[(i+turn)%len(values)], 10)
		}
		tally.Record()
		if turn == 0 {
			first = log.Decisions()[0]
		}
		assert.Equal(t, first, log.Decisions()[0])
	}
}
