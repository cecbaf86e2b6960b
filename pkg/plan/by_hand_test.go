package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/report"
)

// Common practice: an error at the station nearest mirror 2 alone is put on mirror
// 1, at the far end of that travel on mirror 2, at the far end of the gantry on 3.
func TestWalkPutsEachErrorOnItsMirror(t *testing.T) {
	for mirror, stations := range map[string][]string{"1": {"rear-left"}, "2": {"front-left"}, "3": {"rear-right", "front-right"}} {
		for _, off := range stations {
			r := &report.Report{LimitMM: 2}
			for _, s := range machine.Default().Stations {
				r.Expected = append(r.Expected, s.Name)
				right := 0.2
				if s.Name == off {
					right = 3
				}
				r.Stations = append(r.Stations, report.Station{Station: s.Name, Burn: mark(right, 0)})
			}
			p := made(t, Request{Report: r, Style: StyleWalk})
			require.Equal(t, StatusTurn, p.Status, off)
			for _, turn := range p.Turns {
				assert.Equal(t, mirror, turn.Mirror, off)
			}
		}
	}
}

// The station of the next step alone is enough; without it, it is asked for.
func TestWalkAsksForItsOwnStationOnly(t *testing.T) {
	b := simulated(t, 2, rehearsal.Easy)
	p := made(t, Request{Style: StyleWalk, Report: &report.Report{LimitMM: 2, Expected: read(b).Expected}})
	assert.Equal(t, StatusFire, p.Status)
	assert.Equal(t, []string{"rear-left"}, p.FireNext)
	r := spots(func(x, y float64) (float64, float64) { return 3, 0 })
	r.Stations = r.Stations[:1]
	p = made(t, Request{Style: StyleWalk, Report: r})
	assert.Equal(t, StatusTurn, p.Status)
	assert.Equal(t, "1", p.Turns[0].Mirror)
}

// nearFar is the example of two mirrors, near and far, that an optical table has: A = 400 mm
// from mirror to mirror, B = 300 mm on to the near target and C = 900 mm from there to
// the far one, screws as fine as wanted. With g₁, g₂ the turns of the beam at the mirrors
//
//	near = g₁ (A + B) + g₂ B,   far = g₁ (A + B + C) + g₂ (B + C).
//
// Screws 40 mm from the pivot with 0.5 mm of pitch turn the mirror by 12.5 mrad a turn,
// the beam by 25.
const nearFar = `name: near and far
source: {at_mm: [-500, 0, 0], direction: [1, 0, 0]}
mirrors:
  - {name: "1", rides: frame, at_mm: [0, 0, 0], normal: [-1, 1, 0], up: [0, 0, 1], clear_mm: 60, screws: &plate
      {A: {at_mm: [0, 0]}, B: {at_mm: [40, 0]}, C: {at_mm: [0, 40]}, pitch_mm: 0.5, clockwise: forward, travel_turns: 3, smallest_turn: 0.0001}}
  - {name: "2", rides: frame, at_mm: [0, 400, 0], normal: [1, -1, 0], up: [0, 0, 1], clear_mm: 60, screws: *plate}
target: {rides: head, at_mm: [0, 400, 0], normal: [-1, 0, 0], up: [0, 0, 1]}
stations: {near: [300, 0], far: [1200, 0]}
`

// Walking the beam, mirror 1 for near and mirror 2 for far, multiplies the error by
// B (A + B + C)/((A + B)(B + C)) = 300·1600/(700·1200) = 4/7 a cycle: mirror 1 makes near 0
// by g₁ = -near/(A + B), which leaves far; mirror 2 makes that 0 by g₂ = -far/(B + C), which
// puts near at g₂ B. From (2, 5): far is 5 - 2·1600/700 = 3/7, near -300/1200 of that,
// -0.107143; then 4/7 of it each time: -0.061224, -0.034985, -0.019992.
func TestWalkConvergesByFourSevenths(t *testing.T) {
	profile, err := machine.Parse("near-far.yaml", []byte(nearFar))
	require.NoError(t, err)
	b := rehearsal.Assemble(profile, 1, rehearsal.NoFaults(profile))
	require.NoError(t, b.TurnAll([]rehearsal.Turn{{Mirror: "1", Screw: "B", Turns: -0.1}, {Mirror: "2", Screw: "B", Turns: 1. / 30}}))
	exact := func() *report.Report {
		r := &report.Report{LimitMM: 0.01}
		for _, s := range b.Spots() {
			m := mark(s.RightMM, s.UpMM)
			m.Uncertainty.CovarianceMM2 = [2][2]float64{}
			r.Expected, r.Stations = append(r.Expected, s.Station), append(r.Stations, report.Station{Station: s.Station, Burn: m})
		}
		return r
	}
	const tol = 5e-3 // finest turns of 1e-4 are 2 µm and 4 µm; the rest is second order
	for _, want := range []float64{-0.107143, -0.061224, -0.034985, -0.019992} {
		for _, mirror := range []string{"1", "2"} {
			p := made(t, Request{Profile: profile, Report: exact(), Style: StyleWalk})
			require.Equal(t, StatusTurn, p.Status)
			for _, turn := range p.Turns {
				require.Equal(t, mirror, turn.Mirror)
			}
			carryOut(t, b, p)
		}
		assert.InDelta(t, want, -b.Spots()[0].RightMM, tol)
	}
}

// Both screws at once, solved by hand: to take (2, 5) to 0, g₁ + g₂ = -3/900 and g₁ = (-2 +
// 300/300)/400 = -1/400, so g₂ = -1/1200: -2.5 and -0.8333 mrad, which with 25 mrad a turn
// and the signs of this machine's mirrors are +0.1 and -1/30 turn of the screws B.
func TestTheWorkedNearFarTurns(t *testing.T) {
	profile, err := machine.Parse("near-far.yaml", []byte(nearFar))
	require.NoError(t, err)
	r := &report.Report{LimitMM: 0.5, Expected: []string{"near", "far"}}
	for name, left := range map[string]float64{"near": 2, "far": 5} {
		r.Stations = append(r.Stations, report.Station{Station: name, Burn: mark(-left, 0)})
	}
	p := taskOf(t, profile, r, 0.5)
	g := p.goal(p.outlook, 0)
	best := g.Unrounded([]int{p.response.Screw("1", "B"), p.response.Screw("2", "B")})
	assert.InDeltaSlice(t, []float64{0.1, -1. / 30}, best.Turns, 2e-4)
	_, worst := p.outlook.worst(best.All(p.screws()))
	assert.Less(t, worst, 0.01)
}

// P. S. Thompson, "Pivoting a beam about a fixed point with steering mirrors", Opt.
// Eng. 57(2) 025106 (2018): to turn the beam about the first aperture the second
// mirror is turned by A/B more than the first one, A from mirror to mirror, B from the
// second mirror to the aperture; and then the second aperture is reached with the
// first one untouched. Two adjustments suffice, in whichever order.
func TestPivotingAboutTheFirstAperture(t *testing.T) {
	const a, bb = 400.0, 300.0
	profile, err := machine.Parse("near-far.yaml", []byte(nearFar))
	require.NoError(t, err)
	r, err := profile.Response()
	require.NoError(t, err)
	one, two := r.Screw("1", "B"), r.Screw("2", "B")
	share := -r.PerTurn[0][one][0] / r.PerTurn[0][two][0] // of mirror 2's turn over mirror 1's, near untouched
	assert.InDelta(t, 1+a/bb, abs(share), 1e-9)
	// 10 % more, of A/B = 0.1: 3 turns are 3.3.
	profile.Mirrors[1].AtMM[1], profile.Target.AtMM[1] = 30, 30
	r, err = profile.Response()
	require.NoError(t, err)
	assert.InDelta(t, 3.3, 3*abs(r.PerTurn[0][one][0]/r.PerTurn[0][two][0]), 1e-9)
	// On the simulated machine: near stays, far moves.
	b := rehearsal.Assemble(profile, 1, rehearsal.NoFaults(profile))
	turns := 0.01
	require.NoError(t, b.Turn("1", "B", turns))
	require.NoError(t, b.Turn("2", "B", -turns*r.PerTurn[0][one][0]/r.PerTurn[0][two][0]))
	assert.InDelta(t, 0, b.Spots()[0].RightMM, 1e-3)
	assert.Greater(t, abs(b.Spots()[1].RightMM), 0.02)
}

func abs(v float64) float64 { return max(v, -v) }
