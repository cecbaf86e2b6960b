package rehearsal

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/chance"
	"burngauge.dev/burngauge/pkg/machine"
)

// twoMirrors is a near/far example, worked by hand: laser along
// +x, first mirror at the origin at 45 degrees, along +y, second mirror 400 mm on, along +x
// again; planes at x = 300 and 1200. Screws at (0,0), (40,0), (0,40), pitch 0.5.
const twoMirrors = `name: near and far
source: {at_mm: [-500, 0, 0], direction: [1, 0, 0]}
mirrors:
  - {name: "1", rides: frame, at_mm: [0, 0, 0], normal: [-1, 1, 0], up: [0, 0, 1], clear_mm: 40, screws: &plate
      {A: {at_mm: [0, 0]}, B: {at_mm: [40, 0]}, C: {at_mm: [0, 40]}, pitch_mm: 0.5, clockwise: forward, travel_turns: 3, smallest_turn: 0.01}}
  - {name: "2", rides: frame, at_mm: [0, 400, 0], normal: [1, -1, 0], up: [0, 0, 1], clear_mm: 40, screws: *plate}
target: {rides: head, at_mm: [0, 400, 0], normal: [-1, 0, 0], up: [0, 0, 1]}
stations: {near: [300, 0], far: [1200, 0]}
`

func example(t *testing.T) *Bench {
	t.Helper()
	p, err := machine.Parse("example.yaml", []byte(twoMirrors))
	require.NoError(t, err)
	return Assemble(p, 1, NoFaults(p))
}

// near and far error along y, which on this target is to the left.
func nearFar(b *Bench) (near, far float64) {
	s := b.Spots()
	return -s[0].RightMM, -s[1].RightMM
}

// Two mirrors, two planes: measured +2 near and +5 far want -0.1 turn at the first mirror and -1/30 turn at
// the second by near = g1(A+B) + g2 B, far = g1(A+B+C) + g2(B+C) with A = 400, B = 300,
// C = 900 mm and g the beam's change of angle at each mirror, in which both mirrors
// count the same way. Here a clockwise turn at B swings both mirrors anticlockwise as
// seen from above, which moves the spot by -1400 and +600 mm a radian: +0.1 and -1/30.
func TestNearFarExampleTurnsMoveTheSpotsAsWorkedByHand(t *testing.T) {
	const tol = 0.01 // the example is linear; its second order is 700·0.0025² = 0.004 mm
	b := example(t)
	require.NoError(t, b.TurnAll([]Turn{{"1", "B", 0.1}, {"2", "B", -1.0 / 30}}))
	near, far := nearFar(b)
	assert.InDelta(t, -2, near, tol)
	assert.InDelta(t, -5, far, tol)

	// Across the plane of incidence the same takes √2 as much: 0.141421 and 0.047140
	// turn. Forward at C tips the first mirror's beam down, the second's up and down again.
	b = example(t)
	require.NoError(t, b.TurnAll([]Turn{{"1", "C", 0.141421}, {"2", "C", 0.047140}}))
	s := b.Spots()
	assert.InDelta(t, -2, s[0].UpMM, tol)
	assert.InDelta(t, -5, s[1].UpMM, tol)
}

// The derivatives of the exact reflection r = d - 2(d·n)n at both mirrors, worked out
// apart from this code, per radian: near y, near z, far y,
// far z. The mount's up is z; its right is (1,1,0)/√2 for mirror 1 and the opposite for 2.
func TestDerivativesOfTheTwoMirrorTable(t *testing.T) {
	const h, tol = 1e-5, 1e-4
	for _, k := range []struct {
		name         string
		mirror, axis int
		want         [4]float64
	}{
		{"1 yaw", 0, 1, [4]float64{-1400, 0, -3200, 0}},
		{"1 pitch", 0, 0, [4]float64{0, 989.949494, 0, 2262.741700}},
		{"2 yaw", 1, 1, [4]float64{600, 0, 2400, 0}},
		{"2 pitch, the other way", 1, 0, [4]float64{0, 424.264069, 0, 1697.056275}},
	} {
		var got [4]float64
		for _, sign := range []float64{1, -1} {
			b := example(t)
			b.Hidden.Mirrors[k.mirror].TiltDeg[k.axis] = sign * h * 180 / math.Pi
			s := b.Spots()
			for i, v := range []float64{-s[0].RightMM, s[0].UpMM, -s[1].RightMM, s[1].UpMM} {
				got[i] += sign * v / (2 * h)
			}
		}
		for i := range got {
			assert.InDelta(t, k.want[i], got[i], tol, "%s, %d", k.name, i)
		}
	}
}

// Walking the beam, the usual procedure by hand (A. Agha, M. Minkin, "Understanding
// 'Walking the Beam'", Stony Brook Laser Teaching Center 2007): first mirror until near is right, second until
// far is right, again and again. From (2, 5) the near error goes -0.107143, -0.061224,
// -0.034985, -0.019992: a ratio of B(A+B+C)/((A+B)(B+C)) = 4/7 a cycle.
func TestWalkingTheBeamConvergesByFourSevenths(t *testing.T) {
	b := example(t)
	require.NoError(t, b.TurnAll([]Turn{{"1", "B", -0.1}, {"2", "B", 1.0 / 30}}))
	near, far := nearFar(b)
	require.InDelta(t, 2, near, 0.01)
	require.InDelta(t, 5, far, 0.01)
	perTurn := func(mirror string, pick func(near, far float64) float64) float64 {
		before := pick(nearFar(b))
		require.NoError(t, b.Turn(mirror, "B", 1e-4))
		after := pick(nearFar(b))
		require.NoError(t, b.Turn(mirror, "B", -1e-4))
		return (after - before) / 1e-4
	}
	nearOf, farOf := func(n, _ float64) float64 { return n }, func(_, f float64) float64 { return f }
	for cycle, want := range []float64{-0.107143, -0.061224, -0.034985, -0.019992} {
		require.NoError(t, b.Turn("1", "B", -nearOf(nearFar(b))/perTurn("1", nearOf)))
		require.NoError(t, b.Turn("2", "B", -farOf(nearFar(b))/perTurn("2", farOf)))
		near, _ := nearFar(b)
		assert.InDelta(t, want, near, 2e-3, "cycle %d", cycle+1)
	}
}

func TestAMachineWithoutFaultsIsAligned(t *testing.T) {
	p := machine.Default()
	for _, s := range Assemble(p, 1, NoFaults(p)).Spots() {
		assert.InDelta(t, 0, s.Distance(), 1e-9, s.Station)
		assert.False(t, s.Clipped || s.Missing)
	}
}

// 200 machines of each level: every spot on the target, the worst some
// millimetres off, no mirror in the beam's way, and no two alike.
func TestRehearsalsStartSomeMillimetresOff(t *testing.T) {
	const seeds = 200
	for _, level := range Levels {
		mean, seen := 0.0, map[float64]bool{}
		for seed := range uint64(seeds) {
			b, err := NewBench(machine.Default(), seed, level)
			require.NoError(t, err)
			worst := 0.0
			for _, s := range b.Spots() {
				require.False(t, s.Clipped || s.Missing, "%s, seed %d", level, seed)
				worst = max(worst, s.Distance())
			}
			require.Less(t, worst, 12.0)
			require.Greater(t, worst, 2.0, "the inner ring's radius: something to do")
			mean += worst / seeds
			seen[worst] = true
		}
		assert.InDelta(t, 5, mean, 1.5, "%s", level)
		assert.Len(t, seen, seeds)
	}
}

// Of 1000 draws (five of each of the seeds 0 to 199), 778, 779 and 780 served at the three
// levels when drawTries was chosen.
func TestMostDrawsServe(t *testing.T) {
	p := machine.Default()
	for _, level := range Levels {
		serve := 0
		for seed := range uint64(200) {
			d := chance.New(seed, chance.Stream("hidden"))
			for range 5 {
				worst := Assemble(p, seed, drawFaults(d, p, level.ranges())).worst()
				if worst > startLeast && worst < startMost {
					serve++
				}
			}
		}
		assert.InDelta(t, 779, serve, 5, "%s", level)
	}
}

// What the easy level puts out, the screws put right: a few Newton steps on the
// true spots bring all of them within 0.3 mm, every screw well within its travel.
func TestEasyIsCuredByTheScrews(t *testing.T) {
	for seed := range uint64(40) {
		b, err := NewBench(machine.Default(), seed, Easy)
		require.NoError(t, err)
		for range 4 {
			newton(t, b)
		}
		for i, m := range b.Profile.Mirrors {
			for j := range 3 {
				assert.Less(t, math.Abs(b.Turned(i, j)), m.Screws.TravelTurns, "seed %d", seed)
			}
		}
		assert.Less(t, b.worst(), 0.3, "seed %d", seed)
	}
}

// newton turns all screws by the smallest turns that would put every spot into the
// middle if all were linear, with a little damping for what hardly moves a spot.
func newton(t *testing.T, b *Bench) {
	t.Helper()
	const step, damping = 1e-4, 1e-2
	at := offsets(b)
	screws := 3 * len(b.Profile.Mirrors)
	jacobian := mat.NewDense(len(at), screws, nil)
	for k := range screws {
		m, s := b.Profile.Mirrors[k/3].Name, machine.ScrewNames[k%3]
		require.NoError(t, b.Turn(m, s, step))
		for i, v := range offsets(b) {
			jacobian.Set(i, k, (v-at[i])/step)
		}
		require.NoError(t, b.Turn(m, s, -step))
	}
	var normal, right, turns mat.Dense
	normal.Mul(jacobian.T(), jacobian)
	for k := range screws {
		normal.Set(k, k, normal.At(k, k)+damping)
	}
	right.Mul(jacobian.T(), mat.NewDense(len(at), 1, at))
	require.NoError(t, turns.Solve(&normal, &right))
	for k := range screws {
		require.NoError(t, b.Turn(b.Profile.Mirrors[k/3].Name, machine.ScrewNames[k%3], -turns.At(k, 0)))
	}
}

func offsets(b *Bench) (list []float64) {
	for _, s := range b.Spots() {
		list = append(list, s.RightMM, s.UpMM)
	}
	return list
}
