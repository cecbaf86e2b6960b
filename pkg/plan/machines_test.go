package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
)

// Machines of another build: one fixed mirror, and five of which two only fold.
const (
	oneMirror = `name: one mirror
source: {at_mm: [-500, 0, 0], direction: [1, 0, 0]}
mirrors:
  - {name: only, rides: frame, at_mm: [0, 0, 0], normal: [-1, 1, 0], up: [0, 0, 1], clear_mm: 30, screws:
      {A: {at_mm: [-15, -15]}, B: {at_mm: [15, -15]}, C: {at_mm: [-15, 15]}, pitch_mm: 0.4, clockwise: backward, travel_turns: 2, smallest_turn: 0.02}}
target: {rides: frame, at_mm: [0, 600, 0], normal: [0, -1, 0], up: [0, 0, 1]}
stations: {here: [0, 0]}
`
	fiveMirrors = `name: five mirrors
source: {at_mm: [700, 700, 40], direction: [-1, 0, 0]}
mirrors:
  - {name: a, rides: frame, at_mm: [500, 700, 40], normal: [1, -1, 0], up: [0, 0, 1], clear_mm: 25, screws: &plate
      {A: {at_mm: [-18, 18]}, B: {at_mm: [18, 18]}, C: {at_mm: [-18, -18]}, pitch_mm: 0.5, clockwise: forward, travel_turns: 3, smallest_turn: 0.03125}}
  - {name: b, rides: frame, at_mm: [500, 620, 40], normal: [-1, 1, 0], up: [0, 0, 1], clear_mm: 25, screws: *plate}
  - {name: "1", rides: frame, at_mm: [-40, 620, 40], normal: [1, 0, 1], up: [-1, 0, 1], clear_mm: 25, screws: *plate}
  - {name: "2", rides: frame, at_mm: [-40, 620, 120], normal: [0, -1, -1], up: [0, -1, 1], clear_mm: 25, screws: *plate}
  - {name: "3", rides: gantry, at_mm: [-40, 0, 120], normal: [1, 1, 0], up: [0, 0, 1], clear_mm: 25, screws: *plate}
target: {rides: head, at_mm: [0, 0, 120], normal: [-1, 0, 0], up: [0, 0, 1]}
stations: {rear-left: [60, 560], front-left: [60, 40], middle: [450, 300], rear-right: [840, 560], front-right: [840, 40]}
`
)

func TestOtherMachinesArePlannedToo(t *testing.T) {
	for _, text := range []string{oneMirror, fiveMirrors, nearFar} {
		profile, err := machine.Parse("other.yaml", []byte(text))
		require.NoError(t, err)
		require.Empty(t, profile.Check())
		for seed := range uint64(3) {
			b, err := rehearsal.NewBench(profile, seed, rehearsal.Worn)
			require.NoError(t, err)
			var past []Past
			for range 2 {
				r := read(b)
				p := made(t, Request{Profile: profile, Report: r, Past: past})
				carryOut(t, b, p)
				past = append(past, Past{r, p})
			}
			assert.Less(t, farthest(b), 2.0, "%s, seed %d", profile.Name, seed)
			// By hand something is turned as long as a mark is not surely inside.
			want := StatusNothing
			for _, s := range past[0].Before.Stations {
				if s.Burn.Verdict.State != coverage.Inside {
					want = StatusTurn
				}
			}
			walk := made(t, Request{Profile: profile, Report: past[0].Before, Style: StyleWalk})
			assert.Equal(t, want, walk.Status, "%s, seed %d", profile.Name, seed)
		}
	}
}
