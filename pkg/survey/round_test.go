package survey

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// placed gives each shot its station, as Assemble does.
func placed(t *testing.T, shots ...Shot) []Shot {
	s := setup(t)
	for i := range shots {
		shots[i].Station, shots[i].Reason = s.Place(shots[i].File)
	}
	return shots
}

// threeRounds are fifteen photos in one folder; the last is the best placed.
func threeRounds() []Shot {
	return slices.Concat(pass("3 ", 11, 0.1), pass("1 ", 9, 3), pass("2 ", 10, 1))
}

func TestThreeRoundsInOneFolderAreNotMixed(t *testing.T) {
	r, remarks := assemble(t, setup(t), threeRounds()...)
	require.Len(t, r.Stations, 5)
	for _, s := range r.Stations {
		assert.Equal(t, []string{"3 " + s.Station + ".jpg"}, s.Photos)
	}
	require.Len(t, r.Unassigned, 10)
	assert.Equal(t, "of round 1 of 3, taken 2026-09-02 09:00 to 09:04: give --round 1 for a report of that round", r.Unassigned[0].Reason)
	require.Len(t, remarks, 1)
	assert.Contains(t, remarks[0], "holds 3 rounds by the times taken; the report is of round 3 (taken 2026-09-02 11:00 to 11:04)")
	assert.Equal(t, "inside", r.Verdict.State)
}

func TestAnEarlierRoundIsHadByItsNumber(t *testing.T) {
	s := setup(t)
	s.Round = 1
	r, _ := assemble(t, s, threeRounds()...)
	assert.Equal(t, "outside", r.Verdict.State)
	assert.Equal(t, []string{"1 rear-left.jpg"}, r.Stations[0].Photos)
	s.Round = 4
	_, _, err := s.Assemble(threeRounds())
	var none *RoundError
	require.ErrorAs(t, err, &none)
	assert.Equal(t, 3, none.Have)
}

func TestAllTakesEveryPhotoAsOneRound(t *testing.T) {
	s := setup(t)
	s.Round = All
	r, remarks := assemble(t, s, threeRounds()...)
	assert.Empty(t, r.Unassigned)
	assert.Len(t, r.Stations[0].Photos, 3)
	require.Len(t, remarks, 5)
	assert.Contains(t, remarks[0], "Other stations were photographed in between")
}

func TestAPhotoTakenAgainAtOnceIsNoNewRound(t *testing.T) {
	shots := append(pass("", 9, 1), measured("middle 2.jpg", "09:02", 1, 0.01), measured("rear-left 2.jpg", "09:00", 1, 0.01))
	assert.Len(t, Rounds(placed(t, shots...)), 1)
	_, remarks := assemble(t, setup(t), shots...)
	require.Len(t, remarks, 2)
	assert.NotContains(t, remarks[0], "in between")
}

// One station gone back to must not throw the other four out of the report; but
// whoever turned a screw before it must hear of it.
func TestOneStationGoneBackToIsNoNewRound(t *testing.T) {
	shots := append(pass("", 9, 1), measured("rear-left 2.jpg", "09:30", 1, 0.01))
	r, remarks := assemble(t, setup(t), shots...)
	assert.Len(t, r.Stations, 5)
	require.Len(t, remarks, 1)
	assert.Contains(t, remarks[0], "in between")
}

func TestARoundOfHalfTheStationsIsOne(t *testing.T) {
	shots := append(pass("", 9, 1), pass("again ", 10, 1)[:3]...)
	r, _ := assemble(t, setup(t), shots...)
	assert.Len(t, r.Stations, 3)
	assert.Equal(t, "incomplete", r.Verdict.State)
}

func TestWithoutTimesRoundsAreNotSortedAndThatIsSaid(t *testing.T) {
	var shots []Shot
	for i := range 2 {
		for _, name := range Default() {
			shots = append(shots, measured(fmt.Sprintf("%s %d.jpg", name, i), "", 1, 0.02))
		}
	}
	r, remarks := assemble(t, setup(t), shots...)
	assert.Len(t, r.Stations[0].Photos, 2)
	require.Len(t, remarks, 6)
	assert.Contains(t, remarks[0], "10 photos do not say when they were taken")
}

func TestRoundsAreCalledByWordOrNumber(t *testing.T) {
	for text, want := range map[string]Round{"latest": Latest, "all": All, "1": 1, "12": 12} {
		var r Round
		require.NoError(t, r.Set(text))
		assert.Equal(t, want, r)
		assert.Equal(t, text, r.String())
	}
	for _, text := range []string{"", "0", "-1", "first", "1.5"} {
		assert.Error(t, new(Round).Set(text), text)
	}
}
