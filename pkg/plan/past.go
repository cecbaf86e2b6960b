package plan

import (
	"fmt"
	"slices"
	"strings"

	"burngauge.dev/burngauge/pkg/report"
)

// Past is a round that is over: the report before it and the plan that was then
// carried out, all of it. What came of it is the next past round's report, or
// the current one. Past rounds are in the order in which they were.
type Past struct {
	Before *report.Report
	Plan   *Plan
}

// UnknownError names a mirror, screw or station that the profile does not have, or
// a reading that no target can show: report, plan and profile do not belong together.
type UnknownError struct{ Text string }

// Error is one line, lower case, with the next step.
func (e *UnknownError) Error() string { return e.Text }

// round is one set of readings, and how the screws stood then.
type round struct {
	readings []reading
	turned   []float64 // each screw's turns since the first round
	last     []float64 // the last move of each, turns; 0: never turned
	segment  int       // rises where a past round contradicts everything
}

// history is all rounds, the last one being now, and what was noticed in them.
type history struct {
	rounds   []round
	findings []Finding
}

// historyOf lays past rounds and the current report out. Screws count from where they
// stood at the first report.
func (e *estimator) historyOf(past []Past, current *report.Report) (history, error) {
	s := history{}
	if err := onceEach(past, current); err != nil {
		return s, err
	}
	now := round{turned: make([]float64, e.screws()), last: make([]float64, e.screws())}
	for i, p := range past {
		if p.Before == nil || p.Plan == nil {
			return s, fmt.Errorf("past round %d lacks its report or its plan: give REPORT:PLAN", i+1)
		}
		var err error
		if now.readings, err = e.knownStations(&s, p.Before); err != nil {
			return s, fmt.Errorf("past round %d: %w", i+1, err)
		}
		s.rounds = append(s.rounds, now)
		if now, err = e.carriedOut(now, p.Plan); err != nil {
			return s, fmt.Errorf("past round %d: %w", i+1, err)
		}
	}
	var err error
	if now.readings, err = e.knownStations(&s, current); err != nil {
		return s, err
	}
	s.rounds = append(s.rounds, now)
	e.widen(s.rounds)
	return s, e.contradictions(&s)
}

// onceEach refuses a report that is given for two rounds: nothing would have moved
// between them, whatever the plan.
func onceEach(past []Past, current *report.Report) error {
	round := map[string]int{}
	for i, p := range past {
		if p.Before == nil {
			continue // refused where the round is looked at
		}
		digest, err := p.Before.Digest()
		if err != nil {
			continue // a reading that is no number: refused there too
		}
		if first, seen := round[digest]; seen {
			return &UnknownError{fmt.Sprintf("past rounds %d and %d have the same report: give each round once, with the report from before its turns", first, i+1)}
		}
		round[digest] = i + 1
	}
	if digest, err := current.Digest(); err == nil && round[digest] > 0 {
		return &UnknownError{fmt.Sprintf("the report is that of past round %d: give the report of the marks fired after its turns", round[digest])}
	}
	return nil
}

// carriedOut is how the screws stand after a plan.
func (e *estimator) carriedOut(before round, p *Plan) (round, error) {
	after := round{turned: slices.Clone(before.turned), last: slices.Clone(before.last), segment: before.segment}
	for _, t := range p.Turns {
		j := e.response.Screw(t.Mirror, t.Screw)
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

// knownStations are the readings at stations of the profile. Others give a finding,
// once for all rounds.
func (e *estimator) knownStations(s *history, r *report.Report) (list []reading, err error) {
	var unknown []string
	for _, one := range e.settings.Reading.readings(r) {
		if !e.settings.Reading.believable(one) {
			return nil, &UnknownError{fmt.Sprintf("the reading at %s is (%g, %g) mm, which no target shows: survey the photos again", one.station, one.place[0], one.place[1])}
		}
		if e.response.Station(one.station) < 0 {
			unknown = append(unknown, one.station)
			continue
		}
		list = append(list, one)
	}
	if len(unknown) > 0 {
		f := Finding{
			Code:     CodeStationUnknown,
			Text:     "The report has stations that the machine profile does not know, and they are left out. Add them to the profile's stations if they should count.",
			Evidence: strings.Join(unknown, ", "),
		}
		if !slices.Contains(s.findings, f) {
			s.findings = append(s.findings, f)
		}
	}
	return list, nil
}

// contradictions looks at each round with what was known before it: the belief of rounds
// 0 to i-1, led by the turns of plan i-1, predicts the readings of round i as a normal vector
// of a mean and a covariance, and the squared distance of the readings from it is chi-squared
// when the plan and nothing else was done. A round beyond the quantile of ContradictSure, or
// one that a slip explains much better, contradicts everything. From it on the spots' field is
// taken as new (a segment of its own), so that whatever was done beside the plan is not learnt
// from; gains and lengths, which no slip changes, are carried on.
func (e *estimator) contradictions(s *history) error {
	for i := 1; i < len(s.rounds); i++ {
		if len(s.rounds[i].readings) == 0 || len(s.rounds[i-1].readings) == 0 {
			continue
		}
		known, err := e.believe(s.rounds[:i])
		if err != nil {
			return err
		}
		off, err := known.surprise(s.rounds[i])
		if err != nil {
			return err
		}
		slip, err := known.slip(s.rounds[i], off)
		if err != nil {
			return err
		}
		if off.share(e.settings.Round.ContradictSure) <= 1 && slip == "" {
			continue
		}
		for k := i; k < len(s.rounds); k++ {
			s.rounds[k].segment++
		}
		s.findings = append(s.findings, contradiction(i, slip, off))
	}
	return nil
}

func contradiction(round int, slip string, off surprise) Finding {
	why := "another screw was turned, a turn was left out or went the other way, or something has moved. Check that every mount is tight."
	if slip != "" {
		why = "the marks are as if " + slip + "."
	}
	return Finding{
		Code:     CodeRoundContradicts,
		Text:     fmt.Sprintf("What came of past round %d does not fit its plan with any likely gain of its screws: %s Nothing is learnt from that round.", round, why),
		Evidence: off.farthest,
	}
}
