package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/plan"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/report"
)

// limitMM is the radius of the inner ring of the built-in target.
const limitMM = 2.0

// noiseMM is the standard uncertainty of a reading on each axis: about that of a
// measured photo in good light.
const noiseMM = 0.02

// maxRounds ends a loop that does not come to rest.
const maxRounds = 8

// run is one simulated machine, planned and turned until there is nothing to do.
type run struct {
	worst   []float64 // mm, true, before any round and after each
	status  string    // of the last plan
	fires   int       // stations fired at
	touches int       // screws turned
	inside  int       // predictions that came true within their radius
	outside int
	slowest time.Duration // plan
}

// loop plans and turns one machine.
func loop(seed uint64, level rehearsal.Level, settings plan.Settings) (run, error) {
	bench, err := rehearsal.NewBench(machine.Default(), seed, level)
	if err != nil {
		return run{}, err
	}
	dice := rand.New(rand.NewPCG(seed, 10))
	out := run{worst: []float64{worst(bench)}}
	var past []plan.Past
	for range maxRounds {
		r := survey(bench, dice)
		out.fires += len(r.Expected)
		begin := time.Now()
		p, err := plan.Make(plan.Request{Profile: bench.Profile, Report: r, Past: past, Settings: &settings})
		if err != nil {
			return out, err
		}
		out.slowest = max(out.slowest, time.Since(begin))
		out.status = p.Status
		if p.Status != plan.StatusTurn {
			return out, nil
		}
		for _, t := range p.Turns {
			if err := bench.Turn(t.Mirror, t.Screw, t.Turns); err != nil {
				return out, err
			}
		}
		out.touches += touched(p)
		out.worst = append(out.worst, worst(bench))
		out.compare(p, bench)
		past = append(past, plan.Past{Before: r, Plan: p})
	}
	return out, nil
}

// touched counts screws; one that goes past and comes back is one touch.
func touched(p *plan.Plan) int {
	seen := map[machine.ScrewName]bool{}
	for _, t := range p.Turns {
		seen[machine.ScrewName{Mirror: t.Mirror, Screw: t.Screw}] = true
	}
	return len(seen)
}

// compare counts what came true within its stated radius.
func (r *run) compare(p *plan.Plan, b *rehearsal.Bench) {
	spots := b.Spots()
	for i, want := range p.Predicted {
		if math.Hypot(spots[i].RightMM-want.RightMM, spots[i].UpMM-want.UpMM) <= want.RadiusMM {
			r.inside++
		} else {
			r.outside++
		}
	}
}

// worst is the largest true distance of a spot.
func worst(b *rehearsal.Bench) (mm float64) {
	for _, s := range b.Spots() {
		if s.Missing {
			return math.Inf(1)
		}
		mm = max(mm, s.Distance())
	}
	return mm
}

// survey reads all spots: the truth with noise.
func survey(b *rehearsal.Bench, dice *rand.Rand) *report.Report {
	r := &report.Report{LimitMM: limitMM, Job: report.Job{Machine: b.Profile.Name}}
	for _, s := range b.Spots() {
		r.Expected = append(r.Expected, s.Station)
		if s.Missing {
			continue
		}
		right, up := s.RightMM+noiseMM*dice.NormFloat64(), s.UpMM+noiseMM*dice.NormFloat64()
		r.Stations = append(r.Stations, report.Station{Station: s.Station, Burn: burn(right, up)})
	}
	return r
}

func burn(right, up float64) *report.Measurement {
	cov := coverage.Isotropic(noiseMM)
	probability := coverage.Within([2]float64{right, up}, cov, limitMM)
	return &report.Measurement{
		Mark: "burn", Status: report.Measured,
		Offset:      &report.Offset{RightMM: right, UpMM: up, DistanceMM: math.Hypot(right, up)},
		Uncertainty: &report.Uncertainty{CovarianceMM2: cov, RadiusMM: coverage.Radius(cov, coverage.Sure), Coverage: coverage.Sure},
		Verdict:     &report.Verdict{LimitMM: limitMM, State: coverage.State(probability), Probability: probability},
	}
}

// after is the worst station after so many rounds; a machine that was done before
// stays as it was.
func (r run) after(rounds int) float64 { return r.worst[min(rounds, len(r.worst)-1)] }

func (r run) String() string { return fmt.Sprintf("%.2f %s", r.worst, r.status) }
