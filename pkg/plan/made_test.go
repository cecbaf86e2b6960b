package plan

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/report"
)

// noise of a reading, mm.
const noise = 0.02

// mark is a measured burn.
func mark(right, up float64) *report.Measurement {
	cov := coverage.Isotropic(noise)
	return &report.Measurement{
		Mark: "burn", Status: report.Measured,
		Offset:      &report.Offset{RightMM: right, UpMM: up, DistanceMM: math.Hypot(right, up)},
		Uncertainty: &report.Uncertainty{CovarianceMM2: cov, RadiusMM: coverage.Radius(cov, coverage.Sure), Coverage: coverage.Sure},
		Verdict:     &report.Verdict{LimitMM: 2, State: coverage.State(coverage.Within([2]float64{right, up}, cov, 2))},
	}
}

// read surveys a simulated machine at some stations, all when none is named, with
// a reading's noise.
func read(b *rehearsal.Bench, stations ...string) *report.Report {
	dice := rand.New(rand.NewPCG(b.Seed, uint64(len(b.Turns()))))
	r := &report.Report{LimitMM: 2}
	for _, s := range b.Spots() {
		r.Expected = append(r.Expected, s.Station)
		right, up := s.RightMM+noise*dice.NormFloat64(), s.UpMM+noise*dice.NormFloat64()
		if len(stations) > 0 && !slices.Contains(stations, s.Station) {
			continue
		}
		r.Stations = append(r.Stations, report.Station{Station: s.Station, Burn: mark(right, up)})
	}
	return r
}

// spots makes a report of the starter profile's stations from a field.
func spots(field func(x, y float64) (right, up float64)) *report.Report {
	r := &report.Report{LimitMM: 2}
	for _, s := range machine.Default().Stations {
		r.Expected = append(r.Expected, s.Name)
		r.Stations = append(r.Stations, report.Station{Station: s.Name, Burn: mark(field(s.XMM, s.YMM))})
	}
	return r
}

// believed is what a report and past rounds say of a machine.
func believed(t testing.TB, profile machine.Profile, past []Past, r *report.Report) *belief {
	t.Helper()
	e, err := newEstimator(profile, DefaultSettings())
	require.NoError(t, err)
	h, err := e.historyOf(past, r)
	require.NoError(t, err)
	known, err := e.believe(h.rounds)
	require.NoError(t, err)
	return known
}

// taskOf is the task of a first report.
func taskOf(t testing.TB, profile machine.Profile, r *report.Report, limitMM float64) *task {
	t.Helper()
	out, err := newTask(believed(t, profile, nil, r), r, limitMM)
	require.NoError(t, err)
	return out
}

func made(t testing.TB, r Request) *Plan {
	t.Helper()
	if r.Profile.Name == "" {
		r.Profile = machine.Default()
	}
	p, err := Make(r)
	require.NoError(t, err)
	return p
}

// carryOut turns the screws of a simulated machine as planned.
func carryOut(t testing.TB, b *rehearsal.Bench, p *Plan) {
	t.Helper()
	for _, turn := range p.Turns {
		require.NoError(t, b.Turn(turn.Mirror, turn.Screw, turn.Turns))
	}
}

func farthest(b *rehearsal.Bench) (mm float64) {
	for _, s := range b.Spots() {
		mm = max(mm, s.Distance())
	}
	return mm
}

func simulated(t testing.TB, seed uint64, level rehearsal.Level) *rehearsal.Bench {
	t.Helper()
	b, err := rehearsal.NewBench(machine.Default(), seed, level)
	require.NoError(t, err)
	return b
}

func codes(p *Plan) (list []string) {
	for _, f := range p.Findings {
		list = append(list, f.Code)
	}
	return list
}

func finding(t testing.TB, p *Plan, code string) Finding {
	t.Helper()
	for _, f := range p.Findings {
		if f.Code == code {
			return f
		}
	}
	require.Fail(t, "no finding", "%s among %v", code, codes(p))
	return Finding{}
}
