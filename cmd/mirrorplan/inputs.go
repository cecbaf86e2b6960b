package main

import (
	"fmt"
	"os"
	"strings"

	"burngauge.dev/burngauge/pkg/disk"
	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/plan"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// readReport reads a report, with a warning when it was changed since it was written.
func readReport(streams terminal.Streams, path string) (*report.Report, error) {
	r, err := report.ReadFile(path)
	if err != nil {
		return nil, terminal.Fail(terminal.ExitUsage, err, "burngauge survey PHOTOS -o report.json")
	}
	if !r.DigestOK() {
		streams.Note("warning: %s was changed after it was written: its check value does not hold (burngauge verify looks at the photos)", path)
	}
	return r, nil
}

// readProfile reads a machine's profile and returns its text too.
func readProfile(path string) (machine.Profile, []byte, error) {
	if path == "" {
		return machine.Profile{}, nil, terminal.Usagef("mirrorplan machine new > machine.yaml, then --machine machine.yaml", "no machine profile: give --machine FILE")
	}
	profile, text, err := machine.Load(path)
	if err != nil {
		return profile, nil, terminal.Fail(terminal.ExitUsage, err, "mirrorplan machine new prints a profile with comments")
	}
	return profile, text, nil
}

// checked is readProfile for a profile whose beam must arrive. A beam that is
// merely off the target's centre gives a warning: a plan starts from the readings.
func checked(streams terminal.Streams, path string) (machine.Profile, []byte, error) {
	profile, text, err := readProfile(path)
	if err != nil {
		return profile, nil, err
	}
	for _, problem := range profile.Check() {
		if problem.Code != offCentre {
			return profile, nil, terminal.Fail(terminal.ExitUsage, fmt.Errorf("machine profile %s: %s", path, problem.Text), "mirrorplan machine check "+command.Quoted(path))
		}
		streams.Note("warning: machine profile %s: %s", path, problem.Text)
	}
	return profile, text, nil
}

// offCentre is the code of the problem that does not stop a plan.
const offCentre = "off-centre"

const pastHint = "--past report-1.json:plan-1.json"

// readPast reads the rounds named REPORT:PLAN, the first one first.
func readPast(streams terminal.Streams, pairs []string) ([]plan.Past, error) {
	var past []plan.Past
	for _, pair := range pairs {
		reportPath, planPath, ok := splitPair(pair)
		if !ok {
			return nil, terminal.Usagef(pastHint, "--past %q: give a round's report and its plan, with a colon between", pair)
		}
		r, err := readReport(streams, reportPath)
		if err != nil {
			return nil, err
		}
		p, err := readPlan(planPath)
		if err != nil {
			return nil, err
		}
		if digest, _ := r.Digest(); p.Report != "" && p.Report != digest {
			return nil, terminal.Usagef(pastHint, "--past %s: this plan was not made from this report", pair)
		}
		past = append(past, plan.Past{Before: r, Plan: p})
	}
	return past, nil
}

// warnOfPast warns of past rounds that do not look like those before the current one on
// this machine. Neither is refused: a profile may be renamed, a survey made anew.
func warnOfPast(streams terminal.Streams, profile machine.Profile, past []plan.Past, current *report.Report) {
	for i, p := range past {
		if p.Plan.Machine != "" && p.Plan.Machine != profile.Name {
			streams.Note("warning: the plan of past round %d is for the machine %q, the profile is of %q: what is learnt from it holds for the same machine only", i+1, p.Plan.Machine, profile.Name)
		}
		next := current
		if i+1 < len(past) {
			next = past[i+1].Before
		}
		if before(next, p.Before) {
			streams.Note("warning: the report of past round %d is of a later round than the one that should follow it: give --past the oldest first", i+1)
		}
	}
}

// before compares the rounds' times; what has none is before nothing.
func before(a, b *report.Report) bool {
	first, err := a.Time()
	if err != nil {
		return false
	}
	second, err := b.Time()
	return err == nil && first.Before(second)
}

// splitPair cuts REPORT:PLAN at its colon; when names hold colons themselves, at
// the one where both parts are files.
func splitPair(pair string) (reportPath, planPath string, ok bool) {
	for i, c := range pair {
		if c == ':' && exists(pair[:i]) && exists(pair[i+1:]) {
			return pair[:i], pair[i+1:], true
		}
	}
	reportPath, planPath, ok = strings.Cut(pair, ":")
	return reportPath, planPath, ok && reportPath != "" && planPath != ""
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// readPlan reads a plan of an earlier round.
func readPlan(path string) (*plan.Plan, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, terminal.Usagef("mirrorplan plan report.json --machine machine.yaml -o plan.json", "plan %s: %w", path, disk.Cause(err))
	}
	defer file.Close()
	p, err := plan.Decode(file)
	if err != nil {
		return nil, terminal.Usagef("give a file that mirrorplan plan -o plan.json wrote", "plan %s: %w", path, err)
	}
	return p, nil
}
