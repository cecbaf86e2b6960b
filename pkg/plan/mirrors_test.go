package plan

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
)

// A first mirror that leans puts the beam off the middle of the second one, and turning
// it back brings the beam there again: that is no way to the edge. By hand on the
// near/far machine: half a turn is 6.25 mrad of the mirror, 12.5 of the beam, 5 mm
// across over the 400 mm to mirror 2 and √2 times that over its surface, which is more
// than a mirror of 20 mm lets a beam walk from its middle.
func TestALeaningMirrorIsTurnedBackWhateverTheWalk(t *testing.T) {
	profile, err := machine.Parse("near-far.yaml", []byte(strings.ReplaceAll(nearFar, "clear_mm: 60", "clear_mm: 20")))
	require.NoError(t, err)
	b := rehearsal.Assemble(profile, 1, rehearsal.NoFaults(profile))
	require.NoError(t, b.Turn("1", "B", 0.5))
	off := taskOf(t, profile, read(b), 2).edge(0, 1, 20)
	// Two stations leave open how much of it is a shift.
	assert.InDelta(t, 5*math.Sqrt2, math.Hypot(off.NowMM[0], off.NowMM[1]), DefaultSettings().Mirror.StartMM)
	done := made(t, Request{Profile: profile, Report: read(b)})
	require.Equal(t, StatusTurn, done.Status)
	carryOut(t, b, done)
	assert.Less(t, farthest(b), 1.0)
}

// With the head out of place the beam is well on its mirrors, and turns that bring it to
// the target lead it towards their edges: the plan stops before. On the simulated
// machine nothing is clipped then; the turns that mirrors three times as wide allow do
// run off these.
func TestTheBeamIsKeptOnTheMirrors(t *testing.T) {
	// Screws that are known well and have the travel are turned far.
	known := func(clear float64) machine.Profile {
		p := machine.Default()
		p.Mirrors = slices.Clone(p.Mirrors)
		for i := range p.Mirrors {
			p.Mirrors[i].ClearMM, p.Mirrors[i].Screws.TravelTurns = clear, 10
			for j := range p.Mirrors[i].Screws.Points {
				p.Mirrors[i].Screws.Points[j].Gain, p.Mirrors[i].Screws.Points[j].GainU = 1, 0.01
			}
		}
		return p
	}
	shifted := func() *rehearsal.Bench {
		return surveyed(misplaced{"head", machine.Vec{0, 0, -8}}.move(known(20)))
	}
	clipped := func(b *rehearsal.Bench) (n int) {
		for _, s := range b.Spots() {
			if s.Clipped {
				n++
			}
		}
		return n
	}
	kept, free := shifted(), shifted()
	carryOut(t, kept, made(t, Request{Report: read(kept), Profile: known(20)}))
	carryOut(t, free, made(t, Request{Report: read(free), Profile: known(60)}))
	assert.Zero(t, clipped(shifted()))
	assert.Zero(t, clipped(kept))
	assert.Positive(t, clipped(free))
	assert.Less(t, farthest(free), farthest(kept))
}
