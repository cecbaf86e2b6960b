package rehearsal

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/machine"
)

// starter is the built-in machine with faults of a test's own.
func starter(change func(*Faults)) *Bench {
	p := machine.Default()
	f := NoFaults(p)
	if change != nil {
		change(&f)
	}
	return Assemble(p, 1, f)
}

// A twisted gantry: the head lies too high in proportion to x times y, so the
// spot lies as much too low; at the far corner by the whole twist.
func TestTwistGrowsWithXTimesY(t *testing.T) {
	b := starter(func(f *Faults) { f.TwistMM = 0.25 })
	for i, s := range b.Spots() {
		at := b.Profile.Stations[i]
		assert.InDelta(t, -0.25*at.XMM*at.YMM/(840*560), s.UpMM, 1e-9, s.Station)
		assert.InDelta(t, 0, s.RightMM, 1e-9)
	}
}

// Lengths that are off leave an aligned machine aligned, and lengthen the lever
// of each mirror: a beam tilted by 2·1 mrad at the third one goes 2 mm off a metre.
func TestLengthsStretchTheLeversOnly(t *testing.T) {
	legs := []float64{1.05, 0.93, 1.08, 0.92}
	for _, s := range starter(func(f *Faults) { f.Legs = legs }).Spots() {
		assert.InDelta(t, 0, s.Distance(), 1e-9)
	}
	const mrad = 1e-3
	tilt := func(f *Faults) { f.Mirrors[2].TiltDeg[1] = mrad * 180 / math.Pi }
	plain := starter(tilt).Spots()
	longer := starter(func(f *Faults) { tilt(f); f.Legs = legs }).Spots()
	for i, station := range machine.Default().Stations {
		lever := station.XMM + 40 // from the third mirror, at x = -40
		assert.InDelta(t, lever*math.Tan(2*mrad), math.Abs(plain[i].RightMM), 1e-6)
		assert.InDelta(t, 0.92, longer[i].RightMM/plain[i].RightMM, 1e-6)
	}
	// And across the fold by √2 instead of 2, at the first mirror the whole way.
	up := starter(func(f *Faults) { f.Mirrors[2].TiltDeg[0] = mrad * 180 / math.Pi }).Spots()
	assert.InDelta(t, 880*math.Sqrt2*math.Tan(mrad), math.Abs(up[3].UpMM), 1e-6)
}

// A worn screw: its turn counts as so much of another one's.
func TestAGainScalesTheTurn(t *testing.T) {
	worn := starter(func(f *Faults) { f.Mirrors[0].Gain[1] = 1.3 })
	good := starter(nil)
	require.NoError(t, worn.Turn("1", "B", 0.2))
	require.NoError(t, good.Turn("1", "B", 0.26))
	for i, s := range good.Spots() {
		assert.InDelta(t, s.RightMM, worn.Spots()[i].RightMM, 1e-9)
		assert.InDelta(t, s.UpMM, worn.Spots()[i].UpMM, 1e-9)
	}
}

// Play of 0.05 turn: after a reversal the first 0.05 turn moves nothing, all
// further turns move the plate by as much; going on the same way loses nothing.
func TestBacklashIsLostOnReversal(t *testing.T) {
	for _, lean := range []float64{0, 1} {
		b := starter(func(f *Faults) {
			f.Mirrors[1].BacklashTurns[0] = 0.05
			f.Mirrors[1].Lean[0] = lean
		})
		effect := func(turns float64) float64 {
			require.NoError(t, b.Turn("2", "A", turns))
			return b.screws[1][0].moved()
		}
		first := 0.2 // it was last turned anticlockwise: the gap comes first
		if lean == 0 {
			first = 0.15
		}
		assert.InDelta(t, first, effect(0.2), 1e-12)
		assert.InDelta(t, first+0.1, effect(0.1), 1e-12, "on the same way")
		at := b.Spots()
		assert.InDelta(t, first+0.1, effect(-0.03), 1e-12, "within the play")
		assert.Equal(t, at, b.Spots())
		assert.InDelta(t, first+0.1-0.01, effect(-0.03), 1e-12, "beyond it")
		assert.InDelta(t, first+0.1-0.01, effect(0.05), 1e-12, "back across the play")
		assert.InDelta(t, 0.29, b.Turned(1, 0), 1e-12, "the screw's own place")
	}
}

// The third mirror moved by 9.3 mm to its right leaves its left rim 0.7 mm from the
// beam; foreshortened at 45 degrees it cuts the beam 0.7/√2 mm from its middle, on
// the target's left: a ray displaced to the machine's -x comes out displaced to +y, the left.
func TestAMirrorsEdgeCutsTheBeam(t *testing.T) {
	b := starter(func(f *Faults) { f.Mirrors[2].ShiftMM[0] = 9.3 })
	for _, s := range b.Spots() {
		assert.True(t, s.Clipped, s.Station)
		assert.False(t, s.Missing)
		assert.InDelta(t, 0.7/math.Sqrt2, s.Cuts[2].MM, 1e-9)
		assert.InDelta(t, 180, math.Abs(s.Cuts[2].Deg), 1e-9)
	}

	gone := starter(func(f *Faults) { f.Mirrors[2].ShiftMM[0] = 14 })
	for _, s := range gone.Spots() {
		assert.True(t, s.Missing)
	}
}

func TestTurnsRespectTheTravelAndAreAllOrNone(t *testing.T) {
	b := starter(nil)
	require.NoError(t, b.Turn("mirror 1", "a", 2.75))
	at := b.Spots()
	err := b.TurnAll([]Turn{{"2", "B", 1}, {"1", "A", 0.5}})
	assert.EqualError(t, err, "mirror 1, screw A has 0.25 turns left clockwise, not 0.5: its travel is 3 turns either way from the start, and it stands at +2.75")
	assert.Equal(t, at, b.Spots(), "the first turn was not made either")
	assert.Len(t, b.Turns(), 1)
	require.NoError(t, b.TurnAll([]Turn{{"1", "A", 0.25}, {"1", "A", -6}}))
	assert.ErrorContains(t, b.Turn("1", "A", -0.001), "anticlockwise")
	for _, wrong := range []Turn{{"4", "A", 0.1}, {"1", "D", 0.1}, {"1", "A", math.NaN()}, {"1", "A", math.Inf(1)}} {
		var fault *TurnError
		assert.ErrorAs(t, b.TurnAll([]Turn{wrong}), &fault)
	}
}

// The profile's own ranges overrule the level's.
func TestRangesOfTheProfile(t *testing.T) {
	p := machine.Default()
	none, twist := 0.0, 0.6
	p.Faults = machine.Ranges{MirrorTiltDeg: &none, MirrorShiftMM: &none, GainsPercent: &none, TwistMM: &twist}
	b, err := NewBench(p, 4, Hard)
	require.NoError(t, err)
	for _, m := range b.Hidden.Mirrors {
		assert.Equal(t, [2]float64{}, m.TiltDeg)
		assert.Equal(t, [3]float64{1, 1, 1}, m.Gain)
		assert.NotZero(t, m.BacklashTurns[0], "not overruled")
	}
	assert.InDelta(t, 0.45, math.Abs(b.Hidden.TwistMM), 0.15)
	huge := 9.0
	p.Faults = machine.Ranges{SourceAimDeg: &huge}
	_, err = NewBench(p, 4, Easy)
	assert.ErrorContains(t, err, "no misalignment lets the beam reach the target")
}

// Every tilt, shift and aim by itself, at the front right of the built-in machine, where
// the beam goes 740 mm to mirror 1, 80 to 2, 580 to 3 and 880 to the target. A tilt by δ
// about the axis square to the plane of incidence moves the spot by L tan 2δ, about the
// one within it by √2 L tan δ; a mirror shifted along its normal moves it by √2 times
// that at 45 degrees, along its face not at all; the source's shift comes through as it
// is, its aim by L tan of it.
func TestEachFaultMovesTheSpotByHandWorkedNumbers(t *testing.T) {
	const deg = 0.1
	rad := deg * math.Pi / 180
	l := []float64{740 + 80 + 580 + 880, 80 + 580 + 880, 580 + 880, 880}
	type fault func(*Faults)
	for name, k := range map[string]struct {
		put  fault
		want float64
	}{
		"aim about u":             {func(f *Faults) { f.Source.AimDeg[0] = deg }, l[0] * math.Tan(rad)},
		"aim about v":             {func(f *Faults) { f.Source.AimDeg[1] = deg }, l[0] * math.Tan(rad)},
		"source along u":          {func(f *Faults) { f.Source.ShiftMM[0] = 0.5 }, 0.5},
		"source along v":          {func(f *Faults) { f.Source.ShiftMM[1] = 0.5 }, 0.5},
		"mirror 1 about right":    {func(f *Faults) { f.Mirrors[0].TiltDeg[0] = deg }, l[1] * math.Tan(2*rad)},
		"mirror 1 about up":       {func(f *Faults) { f.Mirrors[0].TiltDeg[1] = deg }, l[1] * math.Sqrt2 * math.Tan(rad)},
		"mirror 2 about right":    {func(f *Faults) { f.Mirrors[1].TiltDeg[0] = deg }, l[2] * math.Tan(2*rad)},
		"mirror 2 about up":       {func(f *Faults) { f.Mirrors[1].TiltDeg[1] = deg }, l[2] * math.Sqrt2 * math.Tan(rad)},
		"mirror 3 about up":       {func(f *Faults) { f.Mirrors[2].TiltDeg[1] = deg }, l[3] * math.Tan(2*rad)},
		"mirror 3 about right":    {func(f *Faults) { f.Mirrors[2].TiltDeg[0] = deg }, l[3] * math.Sqrt2 * math.Tan(rad)},
		"mirror 1 along right":    {func(f *Faults) { f.Mirrors[0].ShiftMM[0] = 0.4 }, 0},
		"mirror 2 along up":       {func(f *Faults) { f.Mirrors[1].ShiftMM[1] = 0.4 }, 0},
		"mirror 1 along normal":   {func(f *Faults) { f.Mirrors[0].ShiftMM[2] = 0.4 }, 0.4 * math.Sqrt2},
		"mirror 2 along normal":   {func(f *Faults) { f.Mirrors[1].ShiftMM[2] = 0.4 }, 0.4 * math.Sqrt2},
		"mirror 3 against normal": {func(f *Faults) { f.Mirrors[2].ShiftMM[2] = -0.4 }, 0.4 * math.Sqrt2},
	} {
		spot := starter(k.put).Spots()[4]
		require.Equal(t, "front-right", spot.Station)
		assert.InDelta(t, k.want, spot.Distance(), 0.02, name) // second order: L δ² is 0.007 mm
	}
}

// How far each level goes: easy only mirrors and source; worn 3 % of lengths, 15 % of
// gains, a mild twist; hard 8 %, 30 %, 0.25 mm, and backlash. Over many seeds the largest
// come near these numbers and none goes beyond.
func TestLevelsGoAsFarAsTheyShould(t *testing.T) {
	for level, most := range map[Level]struct{ lengths, gains, twist, backlash float64 }{
		Easy: {}, Worn: {0.03, 0.15, 0.1, 0}, Hard: {0.08, 0.30, 0.25, 0.05},
	} {
		var lengths, gains, twist, backlash, tilt float64
		for seed := range uint64(40) {
			b, err := NewBench(machine.Default(), seed, level)
			require.NoError(t, err)
			for _, leg := range b.Hidden.Legs {
				lengths = max(lengths, math.Abs(leg-1))
			}
			for _, m := range b.Hidden.Mirrors {
				tilt = max(tilt, math.Abs(m.TiltDeg[0]))
				for j := range 3 {
					gains, backlash = max(gains, math.Abs(m.Gain[j]-1)), max(backlash, m.BacklashTurns[j])
				}
			}
			twist = max(twist, math.Abs(b.Hidden.TwistMM))
		}
		for _, k := range [][2]float64{{most.lengths, lengths}, {most.gains, gains}, {most.twist, twist}, {most.backlash, backlash}} {
			assert.LessOrEqual(t, k[1], k[0]+1e-12, "%s", level)
			assert.GreaterOrEqual(t, k[1], 0.9*k[0], "%s", level)
		}
		assert.Positive(t, tilt)
	}
}

// A beam that leaves the source turned by the angle a lands L tan a off the target's middle,
// 2280 mm of way at the front right (740 to mirror 1, 80 to 2, 580 to 3, 880 to the target). The tape
// reaches 14 mm: 2280 tan 0.34 deg = 13.5 is on it, 2280 tan 0.36 deg = 14.3 is not. Turned by
// 40 degrees the beam passes every mirror by, and lands nowhere.
func TestABeamThatIsTurnedAwayIsMissing(t *testing.T) {
	turned := func(deg float64) Spot {
		return starter(func(f *Faults) { f.Source.AimDeg[0] = deg }).Spots()[4]
	}
	for deg, missing := range map[float64]bool{0.34: false, -0.34: false, 0.36: true, -0.36: true} {
		s := turned(deg)
		assert.InDelta(t, 2280*math.Tan(math.Abs(deg)*math.Pi/180), s.Distance(), 0.05, "%g degrees", deg)
		assert.Equal(t, missing, s.Missing, "%g degrees", deg)
	}
	away := turned(40)
	assert.True(t, away.Missing)
	assert.True(t, math.IsNaN(away.RightMM) && math.IsNaN(away.UpMM))
}
