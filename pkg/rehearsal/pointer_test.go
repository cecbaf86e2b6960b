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

// dotted is the built-in profile with the pointer's mount that it shows in a comment.
func dotted(t *testing.T) (machine.Profile, []byte) {
	t.Helper()
	text := bytes.Replace(machine.StarterYAML(), []byte("\n# pointer:"), []byte("\npointer:"), 1)
	p, err := machine.Parse("dotted.yaml", text)
	require.NoError(t, err)
	require.NotNil(t, p.Pointer)
	return p, text
}

// The plate of the built-in profile stands at 45 degrees above the beam, 36 mm from
// screw C to the line through A and B. Forward at C by a tenth of a turn tilts it by
// δ = atan(0.05/36) about the axis square to the plane of incidence: the ray turns up
// by 2δ, and starts √2 times the middle's rise of 0.025 mm higher. From the plate it
// goes 640 mm to mirror 1, 80 to 2, 580 to the head's row at y = 40, and along x. Up
// before the mirrors is +y at the head, which is left as one faces the target.
func TestThePointersScrewsMoveTheDotByHandWorkedNumbers(t *testing.T) {
	p, _ := dotted(t)
	b := Assemble(p, 1, NoFaults(p))
	for _, s := range b.PointerSpots() {
		require.InDelta(t, 0, s.Distance(), 1e-9, "on the beam at the start")
	}
	require.NoError(t, b.Turn("pointer", "C", 0.1))
	for i, s := range b.PointerSpots() {
		at := p.Stations[i]
		way := 640 + 80 + (620 - at.YMM) + 40 + at.XMM
		want := way*math.Tan(2*math.Atan(0.05/36)) + math.Sqrt2*0.025
		assert.InDelta(t, -want, s.RightMM, 1e-3, s.Station)
		assert.InDelta(t, 0, s.UpMM, 1e-9)
	}
	assert.InDelta(t, -6.091, b.PointerSpots()[4].RightMM, 1e-3, "2180 · 0.0027778 + 0.0353 at the front right")
	for _, s := range b.Spots() {
		assert.InDelta(t, 0, s.Distance(), 1e-9, "the beam goes through the plate")
	}
	require.NoError(t, b.Turn("pointer", "C", -0.1))
	for _, s := range b.PointerSpots() {
		assert.InDelta(t, 0, s.Distance(), 1e-9, "and back")
	}
}

// The derivative that a plan is made with, which shares no code, for each of the three
// screws at every station: also with gains in the profile.
func TestThePointersScrewsAnswerAsAPlanTakesThemTo(t *testing.T) {
	p, _ := dotted(t)
	p.Pointer.Screws.Points[1].Gain = 0.7
	seen, ok := p.OfPointer()
	require.True(t, ok)
	r, err := seen.Response()
	require.NoError(t, err)
	const step = 1e-4
	for j, screw := range machine.ScrewNames {
		b := Assemble(p, 1, NoFaults(p))
		require.NoError(t, b.Turn(PointerMount, screw, step))
		for i, s := range b.PointerSpots() {
			want := r.PerTurn[i][r.Screw(PointerMount, screw)]
			assert.InDelta(t, want[0], s.RightMM/step, 0.01, "screw %d, %s", j, s.Station)
			assert.InDelta(t, want[1], s.UpMM/step, 0.01, "screw %d, %s", j, s.Station)
		}
	}
}

// With the mount in its profile a machine hides the same as without, and starts with
// the dot where it was; the mount's screws come on top, with gains and play of the level.
func TestAPointersMountChangesNothingElse(t *testing.T) {
	p, text := dotted(t)
	for _, level := range Levels {
		plain, err := NewBench(machine.Default(), 17, level)
		require.NoError(t, err)
		b, err := NewBench(p, 17, level)
		require.NoError(t, err)
		assert.Equal(t, plain.Spots(), b.Spots())
		for i, s := range plain.PointerSpots() {
			assert.InDelta(t, s.RightMM, b.PointerSpots()[i].RightMM, 1e-9)
			assert.InDelta(t, s.UpMM, b.PointerSpots()[i].UpMM, 1e-9)
		}
		hidden := b.Hidden
		screws := hidden.PointerScrews
		hidden.PointerScrews = nil
		assert.Equal(t, plain.Hidden, hidden)
		assert.Equal(t, level == Hard, screws.BacklashTurns[0] > 0)
		assert.Equal(t, level == Easy, screws.Gain == [3]float64{1, 1, 1})
		for _, g := range screws.Gain {
			assert.InDelta(t, 1, g, level.ranges().gainsPercent/100)
		}

		require.NoError(t, b.TurnAll([]Turn{{"pointer", "A", 0.2}, {"mirror pointer", "A", -0.1}}))
		var saved bytes.Buffer
		require.NoError(t, b.Save(&saved, text))
		again, _, err := Restore(&saved)
		require.NoError(t, err)
		assert.Equal(t, b.PointerSpots(), again.PointerSpots(), "to the last bit")
	}
}

// A pointer's screw may be worn, and has play: 0.2 turn at a gain of 1.5 are 0.3, and of
// 0.2 turn back the first 0.05 are lost.
func TestThePointersScrewsAreWornAsTheMirrorsAre(t *testing.T) {
	p, _ := dotted(t)
	f := NoFaults(p)
	f.PointerScrews.Gain[2], f.PointerScrews.BacklashTurns[2], f.PointerScrews.Lean[2] = 1.5, 0.05, 1
	worn, good := Assemble(p, 1, f), Assemble(p, 1, NoFaults(p))
	at := func(b *Bench) float64 { return b.PointerSpots()[3].RightMM }
	require.NoError(t, worn.Turn("pointer", "C", 0.2))
	require.NoError(t, good.Turn("pointer", "C", 0.3))
	assert.InDelta(t, at(good), at(worn), 1e-9)
	require.NoError(t, worn.Turn("pointer", "C", -0.2))
	require.NoError(t, good.Turn("pointer", "C", -1.5*0.15))
	assert.InDelta(t, at(good), at(worn), 1e-9)
}

// On a machine whose first leg is longer by a tenth the plate stands 704 mm before the first mirror.
func TestThePointersMountStandsOnTheTrueLeg(t *testing.T) {
	p, _ := dotted(t)
	f := NoFaults(p)
	f.Legs[0] = 1.1
	longer, plain := Assemble(p, 1, f), Assemble(p, 1, NoFaults(p))
	for _, b := range []*Bench{longer, plain} {
		require.NoError(t, b.Turn("pointer", "C", 0.1))
	}
	more := 64 * math.Tan(2*math.Atan(0.05/36))
	assert.InDelta(t, -more, longer.PointerSpots()[0].RightMM-plain.PointerSpots()[0].RightMM, 1e-6)
}

func TestAMountThatLosesThePointerIsRefused(t *testing.T) {
	p, text := dotted(t)
	turned := *p.Pointer
	turned.Normal = machine.Vec{1, 0, 1}.Unit()
	p.Pointer = &turned
	_, err := NewBench(p, 1, Easy)
	assert.ErrorContains(t, err, "does not reflect along the beam")
	for _, s := range Assemble(p, 1, NoFaults(p)).PointerSpots() {
		assert.True(t, s.Missing)
	}

	b, err := NewBench(machine.Default(), 1, Hard)
	require.NoError(t, err)
	assert.ErrorContains(t, b.Turn("mirror pointer", "A", 0.1), "the red pointer has no screws here")
	var saved bytes.Buffer
	b.Hidden.PointerScrews = &ScrewFaults{Gain: [3]float64{1, 1, 1}}
	require.NoError(t, b.Save(&saved, machine.StarterYAML()))
	whole := saved.String()
	_, _, err = Restore(strings.NewReader(whole))
	assert.ErrorContains(t, err, "its machine has none")
	saved.Reset()
	b.Hidden.PointerScrews.Gain[1] = -1
	require.NoError(t, b.Save(&saved, text))
	_, _, err = Restore(&saved)
	assert.ErrorContains(t, err, "impossible screw at the pointer")
}

// The mirrors reflect 10 mm to either side of their middles, which at 45 degrees are 10/√2
// across the beam: whichever way a ray is displaced, for one of them that is along the
// slope. A ray farther out falls off it, and there is no dot, though the spot of a ray
// that went on would lie on the tape.
func TestAPointerThatFallsOffAMirrorGivesNoDot(t *testing.T) {
	for i, shift := range []float64{7.0, 7.1, 8.2, 9.3, 7.0, 7.1, 8.2} {
		missing := shift > 10/math.Sqrt2
		b := starter(func(f *Faults) { f.Pointer.ShiftMM[i/4] = shift })
		for _, s := range b.PointerSpots() {
			assert.InDelta(t, shift, s.Distance(), 1e-9)
			assert.Equal(t, missing, s.Missing, "%g mm, %s", shift, s.Station)
			assert.False(t, s.Clipped)
		}
	}
}

// A bench that was written before pointers had screws keeps working: none of them is worn.
func TestAnOlderBenchGetsThePointersScrews(t *testing.T) {
	p, text := dotted(t)
	b, err := NewBench(p, 1, Easy)
	require.NoError(t, err)
	b.Hidden.PointerScrews = nil
	var saved bytes.Buffer
	require.NoError(t, b.Save(&saved, text))
	again, _, err := Restore(&saved)
	require.NoError(t, err)
	assert.NoError(t, again.Turn("pointer", "A", 0.1))
	assert.Equal(t, b.Spots(), again.Spots())
}

// What was learnt of a screw is how it really pulls: exactly at the easy level, and
// what the level adds comes on top. Nothing else that is hidden changes.
func TestAGainThatWasLearntIsTheMachines(t *testing.T) {
	learnt := machine.Default()
	learnt.Mirrors[0].Screws.Points[1].Gain, learnt.Mirrors[0].Screws.Points[1].GainU = 0.8, 0.05
	plain := machine.Default()
	slow, good := Assemble(learnt, 1, NoFaults(learnt)), Assemble(plain, 1, NoFaults(plain))
	require.NoError(t, slow.Turn("1", "B", 0.5))
	require.NoError(t, good.Turn("1", "B", 0.4))
	for i, s := range good.Spots() {
		assert.InDelta(t, s.RightMM, slow.Spots()[i].RightMM, 1e-9)
		assert.InDelta(t, s.UpMM, slow.Spots()[i].UpMM, 1e-9)
	}
	for _, level := range Levels {
		for seed := range uint64(5) {
			with, err := NewBench(learnt, seed, level)
			require.NoError(t, err)
			without, err := NewBench(plain, seed, level)
			require.NoError(t, err)
			assert.InDelta(t, 0.8, with.Hidden.Mirrors[0].Gain[1]/without.Hidden.Mirrors[0].Gain[1], 1e-12)
			assert.InDelta(t, 0.8, with.Hidden.Mirrors[0].Gain[1], 0.8*level.ranges().gainsPercent/100+1e-12)
			with.Hidden.Mirrors[0].Gain[1] = without.Hidden.Mirrors[0].Gain[1]
			assert.Equal(t, without.Hidden, with.Hidden)
		}
	}
}
