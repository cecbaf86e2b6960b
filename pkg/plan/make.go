package plan

import (
	"errors"
	"fmt"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/report"
)

// Styles of a plan.
const (
	StyleWhole = ""     // all mirrors at once
	StyleWalk  = "walk" // the next step of the procedure by hand, one mirror
)

// Request is what a plan is made from.
type Request struct {
	Profile  machine.Profile
	Report   *report.Report // the current round
	Past     []Past         // earlier rounds, the first one first
	Style    string         // StyleWhole or StyleWalk
	LimitMM  float64        // circle that every spot should lie in, 0: the report's
	Settings *Settings      // nil: DefaultSettings
}

// Make plans the next turns. A plan is also made where nothing can be done: its
// status says so. Errors are one line; an *UnknownError where report, past plans and
// profile do not belong together.
func Make(r Request) (*Plan, error) {
	if r.Report == nil {
		return nil, errors.New("there is no report to plan from")
	}
	if r.Style != StyleWhole && r.Style != StyleWalk {
		return nil, fmt.Errorf("style %q: write walk, or leave it out", r.Style)
	}
	e, err := newEstimator(r.Profile, r.settings())
	if err != nil {
		return nil, err
	}
	h, err := e.historyOf(r.Past, r.Report)
	if err != nil {
		return nil, err
	}
	known, err := e.believe(h.rounds)
	if err != nil {
		return nil, err
	}
	limit := r.limit()
	if !(limit > 0) {
		return nil, fmt.Errorf("a limit of %g mm: give one above 0", limit)
	}
	t, err := newTask(known, r.Report, limit)
	if err != nil {
		return nil, err
	}
	p := &planner{task: t, request: r, turns: make([]float64, t.screws())}
	return p.plan(h.findings), nil
}

func (r Request) settings() Settings {
	if r.Settings == nil {
		return DefaultSettings()
	}
	return *r.Settings
}

func (r Request) limit() float64 {
	if r.LimitMM == 0 {
		return r.Report.LimitMM
	}
	return r.LimitMM
}

// planner decides what to do about a task.
type planner struct {
	*task
	request Request
	turns   []float64 // of each screw
	beyond  bool      // no turns do
}

// plan decides the status, and gathers all that follows from it. noticed are the
// findings of the past rounds. What decides, in this order: every station measured and
// surely good; the procedure by hand, where it is asked for; all that is measured good, or
// the spots not yet known to within the limit, so that more must be fired at; else turns are
// searched for.
func (p *planner) plan(noticed []Finding) *Plan {
	digest, _ := p.request.Report.Digest() // "" when a report of numbers that are no numbers has none
	out := &Plan{Schema: SchemaPlan, Machine: p.profile.Name, Report: digest, FireNext: []string{}, Turns: []Turn{}, Findings: []Finding{}}
	good, missing := p.asItIs()
	switch {
	case good && len(missing) == 0:
		out.Status = StatusNothing
	case p.request.Style == StyleWalk:
		out.Status, out.FireNext = p.nextByHand()
	case good || !p.determined():
		out.Status, out.FireNext = StatusFire, p.fireNext(missing, good)
	default:
		out.Status = p.turnAll()
	}
	out.Turns = append(out.Turns, p.inOrder(p.turns)...)
	for k, station := range p.stations {
		out.Predicted = append(out.Predicted, p.outlook.predict(p.response.Stations[station], k, p.turns, p.limitMM))
	}
	out.Findings = append(append(out.Findings, noticed...), p.findings()...)
	out.Cautions = Cautions()
	return out
}

// turnAll finds turns of all mirrors at once, and the status that follows. With caution κ the
// turns make the worst station's √(|E spot|² + κ tr Cov) small, a little of the mean one's with
// it. Each turn t adds t² times the variance of its gain to Cov, so that κ holds turns back that
// promise more than they can keep. It is small in the first round, which may turn out to be the
// last, and 1, the mean square distance itself, once a past round shows that the profile was
// not quite right.
func (p *planner) turnAll() string {
	caution := p.settings.Turn.FirstCaution
	if len(p.request.Past) > 0 {
		caution = p.settings.Turn.LaterCaution
	}
	best := p.goal(p.outlook, caution).Best(p.starts())
	p.turns = best.All(p.screws())
	if p.unreachable(p.turns) || len(best.Screws) == 0 {
		p.beyond = true
		return StatusBeyond
	}
	return StatusTurn
}
