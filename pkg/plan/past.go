package plan

import (
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"burngauge.dev/burngauge/pkg/coverage"
	"burngauge.dev/burngauge/pkg/report"
)

// Past is a round that is over: the report before it and the plan that was then
// carried out, all of it. What came of it is the next past round's report, or
// the current one. Past rounds are in the order in which they were.
type Past struct {
	Before *report.Report
	Plan   *Plan
}

// UnknownError names a mirror, screw or station that the profile does not have.
type UnknownError struct{ Text string }

// Error is one line, lower case, with the next step.
func (e *UnknownError) Error() string { return e.Text }

// story is all rounds, the last one being now, and what was noticed in them.
type story struct {
	rounds   []round
	findings []Finding
}

// story lays past rounds and the current report out. Screws count from where they
// stood at the first report.
func (b *bench) story(past []Past, current *report.Report) (story, error) {
	s := story{}
	now := round{turned: make([]float64, b.screws()), last: make([]float64, b.screws())}
	for i, p := range past {
		if p.Before == nil || p.Plan == nil {
			return s, fmt.Errorf("past round %d lacks its report or its plan: give REPORT:PLAN", i+1)
		}
		now.readings = b.known(&s, p.Before)
		s.rounds = append(s.rounds, now)
		var err error
		if now, err = b.carriedOut(now, p.Plan); err != nil {
			return s, fmt.Errorf("past round %d: %w", i+1, err)
		}
	}
	now.readings = b.known(&s, current)
	s.rounds = append(s.rounds, now)
	b.shape(s.rounds)
	return s, b.contradictions(&s)
}

// carriedOut is how the screws stand after a plan.
func (b *bench) carriedOut(before round, p *Plan) (round, error) {
	after := round{turned: slices.Clone(before.turned), last: slices.Clone(before.last), segment: before.segment}
	for _, t := range p.Turns {
		j := b.response.Screw(t.Mirror, t.Screw)
		if j < 0 {
			return after, &UnknownError{fmt.Sprintf("the plan turns mirror %s, screw %s, which the machine profile does not have: give the profile that the plan was made for", t.Mirror, t.Screw)}
		}
		after.turned[j] += t.Turns
		if t.Turns != 0 {
			after.last[j] = t.Turns
		}
	}
	return after, nil
}

// known are the readings at stations of the profile. Others are told once.
func (b *bench) known(s *story, r *report.Report) (list []Reading) {
	var unknown []string
	for _, reading := range Readings(r) {
		if b.response.Station(reading.Station) < 0 {
			unknown = append(unknown, reading.Station)
			continue
		}
		list = append(list, reading)
	}
	if len(unknown) > 0 {
		f := Finding{
			Code:     "station-unknown",
			Text:     "The report has stations that the machine profile does not know, and they are left out. Add them to the profile's stations if they should count.",
			Evidence: strings.Join(unknown, ", "),
		}
		if !slices.Contains(s.findings, f) {
			s.findings = append(s.findings, f)
		}
	}
	return list
}

// contradictSure is how unlikely what came of a round must be before it counts as
// contradicting everything: once in a thousand rounds it is chance.
const contradictSure = 0.999

// contradictions looks at each round with what was known before it. From one that
// contradicts everything the spots' field is taken as new, so that whatever was
// done beside the plan is not learnt from.
func (b *bench) contradictions(s *story) error {
	for i := 1; i < len(s.rounds); i++ {
		if len(s.rounds[i].readings) == 0 || len(s.rounds[i-1].readings) == 0 {
			continue
		}
		square, worst, err := b.surprise(s.rounds[:i], s.rounds[i])
		if err != nil {
			return err
		}
		most := distuv.ChiSquared{K: float64(2 * len(s.rounds[i].readings))}.Quantile(contradictSure)
		if square <= most {
			continue
		}
		for k := i; k < len(s.rounds); k++ {
			s.rounds[k].segment++
		}
		s.findings = append(s.findings, Finding{
			Code: "round-contradicts",
			Text: fmt.Sprintf("What came of past round %d does not fit its plan with any gain of its screws: another screw was turned, a turn was left out or went the other way, or something has moved. "+
				"Nothing is learnt from that round; check that every mount is tight.", i),
			Evidence: worst,
		})
	}
	return nil
}

// surprise is the square of the distance between the readings of a round and what
// was expected of them, in units of its uncertainty, and its worst station in words.
func (b *bench) surprise(before []round, after round) (square float64, worst string, err error) {
	known, err := b.believe(before)
	if err != nil {
		return 0, "", err
	}
	after.segment = before[len(before)-1].segment
	known.now = after
	n := 2 * len(after.readings)
	c, noise, off := mat.NewDense(n, known.layout.size(), nil), mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	most, doubt := 0.0, [2][2]float64{}
	for i, r := range after.readings {
		k := b.response.Station(r.Station)
		pair := known.rowsOf(k)
		c.SetRow(2*i, pair[0])
		c.SetRow(2*i+1, pair[1])
		own := b.noise(r, after, k)
		mean, cov := known.spread(pair)
		right, up := r.RightMM-mean[0], r.UpMM-mean[1]
		off.SetVec(2*i, right)
		off.SetVec(2*i+1, up)
		for a := range 2 {
			noise.SetSym(2*i+a, 2*i+a, own[a][a])
		}
		noise.SetSym(2*i, 2*i+1, own[0][1])
		if d := right*right + up*up; d > most {
			most, doubt = d, coverage.Sum(cov, own)
			worst = fmt.Sprintf("%s: expected %+.2f mm right, %+.2f mm up", r.Station, mean[0], mean[1]) +
				fmt.Sprintf(", measured %+.2f, %+.2f", r.RightMM, r.UpMM)
		}
	}
	spread := coverage.Propagate(c, known.cov)
	spread.AddSym(spread, noise)
	var chol mat.Cholesky
	if !chol.Factorize(spread) {
		return 0, "", errNotSolved
	}
	var x mat.VecDense
	if err := chol.SolveVecTo(&x, off); err != nil {
		return 0, "", errNotSolved
	}
	return mat.Dot(off, &x), fmt.Sprintf("%s (expected to within %.2f mm)", worst, coverage.Radius(doubt, coverage.Sure)), nil
}
