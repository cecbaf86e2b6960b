package machine_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
)

// oblique is a machine without a right angle between its parts: nothing in a
// derivative may rest on the starter's symmetry.
const oblique = `name: nothing square
source: {at_mm: [710, 615, 35], direction: [-1, 0.008, 0.005]}
mirrors:
  - {name: "1", rides: frame, at_mm: [-40, 620, 40], normal: [1.02, 0.03, 1], up: [-1, 0.2, 1], clear_mm: 30, screws: &plate
      {A: {at_mm: [-15, 19]}, B: {at_mm: [21, 12]}, C: {at_mm: [-3, -22], gain: 1.2, gain_u: 0.1}, pitch_mm: 0.5, clockwise: forward, travel_turns: 3, smallest_turn: 0.03}}
  - {name: "2", rides: frame, at_mm: [-42, 622, 120], normal: [0.01, -1, -1], up: [0.3, -1, 1], clear_mm: 30, screws: &back
      {A: {at_mm: [-18, 18]}, B: {at_mm: [18, 18]}, C: {at_mm: [-18, -18]}, pitch_mm: 0.4, clockwise: backward, travel_turns: 3, smallest_turn: 0.03}}
  - {name: "3", rides: gantry, at_mm: [-40, 0, 118], normal: [1, 1.01, 0.01], up: [0.1, 0, 1], clear_mm: 30, screws: *plate}
target: {rides: head, at_mm: [0, 0, 120], normal: [-1, 0.1, 0.05], up: [0, 0.1, 1]}
stations: {rear-left: [60, 560], middle: [450, 300], front-right: [840, 40]}
`

// twoMirrors is the example near and far that an optical table has: laser along +x, mirrors at
// 45 degrees A = 400 mm apart, targets B = 300 mm and C = 900 mm more on.
const twoMirrors = `name: near and far
source: {at_mm: [-500, 0, 0], direction: [1, 0, 0]}
mirrors:
  - {name: "1", rides: frame, at_mm: [0, 0, 0], normal: [-1, 1, 0], up: [0, 0, 1], clear_mm: 40, screws: &plate
      {A: {at_mm: [0, 0]}, B: {at_mm: [40, 0]}, C: {at_mm: [0, 40]}, pitch_mm: 0.5, clockwise: forward, travel_turns: 3, smallest_turn: 0.01}}
  - {name: "2", rides: frame, at_mm: [0, 400, 0], normal: [1, -1, 0], up: [0, 0, 1], clear_mm: 40, screws: *plate}
target: {rides: head, at_mm: [0, 400, 0], normal: [-1, 0, 0], up: [0, 0, 1]}
stations: {near: [300, 0], far: [1200, 0]}
`

func parse(t testing.TB, text string) machine.Profile {
	t.Helper()
	p, err := machine.Parse("test.yaml", []byte(text))
	require.NoError(t, err)
	return p
}

// The simulated machine has a ray trace of its own, exact in three dimensions,
// that shares no code with this one: its central differences must agree.
func TestResponseAgainstTheSimulatedMachine(t *testing.T) {
	const h, tol = 1e-4, 1e-5 // turns; mm per turn, of up to 40
	for _, p := range []machine.Profile{machine.Default(), parse(t, twoMirrors), parse(t, oblique)} {
		r, err := p.Response()
		require.NoError(t, err)
		for j, screw := range r.Screws {
			at := func(turns float64) []rehearsal.Spot {
				b := rehearsal.Assemble(p, 1, rehearsal.NoFaults(p))
				require.NoError(t, b.Turn(screw.Mirror, screw.Screw, turns))
				return b.Spots()
			}
			plus, minus := at(h), at(-h)
			for k := range r.Stations {
				assert.InDelta(t, (plus[k].RightMM-minus[k].RightMM)/(2*h), r.PerTurn[k][j][0], tol, "%s, %v, %s", p.Name, screw, r.Stations[k])
				assert.InDelta(t, (plus[k].UpMM-minus[k].UpMM)/(2*h), r.PerTurn[k][j][1], tol, "%s, %v, %s", p.Name, screw, r.Stations[k])
			}
		}
		for k, s := range rehearsal.Assemble(p, 1, rehearsal.NoFaults(p)).Spots() {
			assert.InDelta(t, s.RightMM, r.Nominal[k][0], 1e-9)
			assert.InDelta(t, s.UpMM, r.Nominal[k][1], 1e-9)
		}
	}
}

// So must it agree when the source or a mirror's mount is moved by a mm: planes make
// that linear.
func TestMovesOfPartsAgainstTheSimulatedMachine(t *testing.T) {
	for _, text := range []string{twoMirrors, oblique} {
		p := parse(t, text)
		r, err := p.Response()
		require.NoError(t, err)
		nominal := rehearsal.Assemble(p, 1, rehearsal.NoFaults(p)).Spots()
		for axis := range 3 {
			for part := range len(p.Mirrors) + 1 {
				moved, want := parse(t, text), func(k int) [2]float64 { return r.BySource[k][axis] }
				if part == len(p.Mirrors) {
					moved.Source.AtMM[axis]++
				} else {
					moved.Mirrors[part].AtMM[axis]++
					want = func(k int) [2]float64 { return r.ByMount[k][part][axis] }
				}
				for k, s := range rehearsal.Assemble(moved, 1, rehearsal.NoFaults(moved)).Spots() {
					assert.InDelta(t, want(k)[0], s.RightMM-nominal[k].RightMM, 1e-9)
					assert.InDelta(t, want(k)[1], s.UpMM-nominal[k].UpMM, 1e-9)
				}
			}
		}
	}
}

// By hand, for each radian of a mirror: turned in the plane of incidence it turns the beam
// by 2, so that mirror 1 moves near by 2 (A + B) = 1400 and far by 2 (A + B + C) = 3200 mm,
// mirror 2 by 2 B = 600 and 2 (B + C) = 2400. Turned about the line in its face and in the
// plane of incidence it turns the beam by 2 cos 45° = √2 out of that plane: 1400/√2 =
// 989.949494 and so on. A turn of B at 40 mm from the pivot is 12.5 mrad, of C likewise
// by the √2 of the other plane; the plate's middle stays, being screw A's.
func TestResponseOfTwoMirrorsByHand(t *testing.T) {
	const perTurn, tol = 0.0125, 1e-6
	r, err := parse(t, twoMirrors).Response()
	require.NoError(t, err)
	for _, k := range []struct {
		mirror, screw string
		axis          int
		near, far     float64 // per radian
	}{
		{"1", "B", 0, 1400, 3200}, {"2", "B", 0, 600, 2400},
		{"1", "C", 1, 989.949494, 2262.741700}, {"2", "C", 1, 424.264069, 1697.056275},
	} {
		j := r.Screw(k.mirror, k.screw)
		assert.InDelta(t, k.near*perTurn, math.Abs(r.PerTurn[0][j][k.axis]), tol)
		assert.InDelta(t, k.far*perTurn, math.Abs(r.PerTurn[1][j][k.axis]), tol)
		assert.InDelta(t, 0, r.PerTurn[0][j][1-k.axis], tol)
	}
	assert.Equal(t, -1, r.Screw("3", "A"))
	assert.Equal(t, 1, r.Station("far"))
	assert.Equal(t, -1, r.Station("nowhere"))
	// All three of a mount together tilt nothing: √2 times the pitch, wherever the head is.
	for k := range r.Stations {
		sum := r.PerTurn[k][0][0] + r.PerTurn[k][1][0] + r.PerTurn[k][2][0]
		assert.InDelta(t, math.Sqrt2*0.5, math.Abs(sum), tol)
	}
}

// The beam's angles g₁, g₂ at the mirrors move near by g₁ (A + B) + g₂ B and far by g₁ (A + B
// + C) + g₂ (B + C): a matrix (700 300; 1600 1200) of determinant A C = 360000 mm² and, as
// numpy's cond gives it, condition 12.643. The singular values of a 2x2 matrix by hand: their
// squares are (F ± √(F²-4 det²))/2 with F the sum of all squares.
func TestTheTwoMirrorsAreNearlyTheSame(t *testing.T) {
	r, err := parse(t, twoMirrors).Response()
	require.NoError(t, err)
	const perMirrorRadian = 0.0125 * 2 // a turn is 12.5 mrad of the mirror, twice that of the beam
	m := mat.NewDense(2, 2, nil)
	for k := range 2 {
		for i, name := range []string{"1", "2"} {
			m.Set(k, i, r.PerTurn[k][r.Screw(name, "B")][0]/perMirrorRadian)
		}
	}
	assert.InDelta(t, 360000, math.Abs(mat.Det(m)), 1e-6)
	var svd mat.SVD
	require.True(t, svd.Factorize(m, mat.SVDNone))
	f := mat.Norm(m, 2) * mat.Norm(m, 2)
	root := math.Sqrt(f*f - 4*360000*360000)
	assert.InDelta(t, math.Sqrt((f+root)/2), svd.Values(nil)[0], 1e-9)
	assert.InDelta(t, math.Sqrt((f-root)/2), svd.Values(nil)[1], 1e-9)
	assert.InDelta(t, 12.643, svd.Cond(), 5e-4)
}

// A longer leg lengthens what grows on it, and nothing else: with mirror 2 of the
// example moved on by a tenth of its 400 mm, and all that follows with it.
func TestPerLegIsInProportionToTheLeg(t *testing.T) {
	p := parse(t, twoMirrors)
	near, err := p.Response()
	require.NoError(t, err)
	p.Mirrors[1].AtMM[1] *= 1.1
	p.Target.AtMM[1] *= 1.1
	far, err := p.Response()
	require.NoError(t, err)
	for k := range near.Stations {
		for j := range near.Screws {
			for a := range 2 {
				assert.InDelta(t, 0.1*near.PerLeg[k][j][1][a], far.PerTurn[k][j][a]-near.PerTurn[k][j][a], 1e-9)
			}
		}
	}
	// By hand: of mirror 1's 1400·0.0125 mm a turn at near 400/700 grow on the leg to mirror 2.
	assert.InDelta(t, 800*0.0125, math.Abs(near.PerLeg[0][1][1][0]), 1e-9)
	// There the beam wanders over mirror 2 at 45 degrees: √2 times as far.
	assert.InDelta(t, math.Sqrt2*800*0.0125, math.Hypot(near.OnMirror[0][1][1][0], near.OnMirror[0][1][1][1]), 1e-9)
}

func TestTraceOfTheStarter(t *testing.T) {
	p := machine.Default()
	path, err := p.Trace("front-right")
	require.NoError(t, err)
	for i, want := range []machine.Vec{{700, 620, 40}, {-40, 620, 40}, {-40, 620, 120}, {-40, 40, 120}, {840, 40, 120}} {
		assert.InDelta(t, 0, want.Sub(path.Points[i]).Norm(), 1e-9)
	}
	for leg, want := range []float64{740, 80, 580, 880} {
		assert.InDelta(t, want, path.LengthMM(leg), 1e-9)
	}
	assert.Empty(t, p.Check())
	_, err = p.Trace("attic")
	assert.ErrorContains(t, err, "attic")
}

func TestCheckNamesWhatIsWrong(t *testing.T) {
	text := string(machine.StarterYAML())
	for _, c := range []struct{ old, new, code, says string }{
		{"at_mm: [-40, 620, 120], normal: [0, -1, -1]", "at_mm: [-40, 620, 120], normal: [0, 1, 1]", "not-handed-on", "mirror 2"},
		{"normal: [0, -1, -1], up: [0, -1, 1]", "normal: [0, 1, -1], up: [0, 1, 1]", "not-handed-on", "mirror 3"},
		{"normal: [1, 1, 0]", "normal: [1, 1.1, 0]", "off-target", "front-right"},
		{"rides: gantry, at_mm: [-40, 0, 120]", "rides: gantry, at_mm: [-60, 0, 135]", "off-mirror", "mirror 3"},
		{"rides: head, at_mm: [0, 0, 120]", "rides: head, at_mm: [0, 0, 118]", "off-centre", "2.00 mm up"},
		{"normal: [1, 1, 0], up: [0, 0, 1]", "normal: [0, 0, 1], up: [0, 1, 0]", "not-handed-on", "along its face"},
	} {
		require.Contains(t, text, c.old)
		problems := parse(t, strings.Replace(text, c.old, c.new, 1)).Check()
		require.NotEmpty(t, problems, c.new)
		found := false
		for _, p := range problems {
			found = found || p.Code == c.code && strings.Contains(p.Text, c.says)
			assert.NotContains(t, p.Text, "\n")
		}
		assert.True(t, found, "%s: %v", c.code, problems)
	}
	bent := machine.Default()
	bent.Mirrors[0].Screws.Points[1] = machine.Screw{RightMM: -18, UpMM: 3}
	assert.Equal(t, "in-a-line", bent.Check()[0].Code)
}

// What is written reads back as it was, learnt gains and odd names too.
func TestYAMLReadsBackAsTheSame(t *testing.T) {
	full := parse(t, oblique)
	full.Pointer = &machine.Pointer{AtMM: machine.Vec{600, 620, 40}, Normal: machine.Vec{0.6, 0, 0.8}, Up: machine.Vec{0, 1, 0}, Screws: full.Mirrors[1].Screws}
	full.Name = `Süd "2": #1 {x}`
	full.Mirrors[0].Name = "no"
	twist := 0.1
	full.Faults.TwistMM = &twist
	full.Stations[0].Name = "123"
	for _, p := range []machine.Profile{machine.Default(), full} {
		again, err := machine.Parse("again.yaml", p.YAML())
		require.NoError(t, err, string(p.YAML()))
		for i := range p.Mirrors {
			// Vectors are made square again: to the last bit they may differ.
			assert.InDelta(t, 0, p.Mirrors[i].Normal.Sub(again.Mirrors[i].Normal).Norm(), 1e-14)
			assert.InDelta(t, 0, p.Mirrors[i].Up.Sub(again.Mirrors[i].Up).Norm(), 1e-14)
			again.Mirrors[i].Normal, again.Mirrors[i].Up = p.Mirrors[i].Normal, p.Mirrors[i].Up
		}
		again.Source.Direction = p.Source.Direction
		again.Target.Normal, again.Target.Up = p.Target.Normal, p.Target.Up
		assert.Equal(t, p, again)
	}
}

// The pointer's own trace joins the beam's: its dot lies where the beam's spot does,
// and a tilt of its plate moves it as one of a mirror there would. At 100 mm
// from the source the way to front-right is 640+80+580+880 mm: in the fold's plane
// 2·2180·(0.5/36) mm a turn.
func TestThePointerFollowsTheBeam(t *testing.T) {
	text := strings.Replace(string(machine.StarterYAML()), "# pointer: {", "pointer: {", 1)
	p := parse(t, text)
	require.NotNil(t, p.Pointer)
	assert.Empty(t, p.Check())
	dot, ok := p.OfPointer()
	require.True(t, ok)
	path, err := dot.Trace("front-right")
	require.NoError(t, err)
	assert.InDelta(t, 0, math.Hypot(path.RightMM, path.UpMM), 1e-9)
	r, err := dot.Response()
	require.NoError(t, err)
	v := r.PerTurn[4][r.Screw("pointer", "C")]
	// The plate's middle moves too, by half the pitch at most.
	assert.InDelta(t, 2*2180*0.5/36, math.Hypot(v[0], v[1]), 0.5)
	_, ok = machine.Default().OfPointer()
	assert.False(t, ok)
	p.Pointer.AtMM[1] += 5
	assert.Equal(t, "pointer-off", p.Check()[0].Code)
	p = parse(t, text)
	p.Pointer.Normal = machine.Vec{0.6, 0, 0.8}
	assert.Equal(t, "pointer-off", p.Check()[0].Code)
}
