package survey

import (
	"errors"
	"fmt"
	"strconv"
	"time"
)

// Round says which of several rounds in one folder the report is about: the
// first is 1.
type Round int

// Latest is the round taken last, All takes every photo as one round.
const (
	Latest Round = 0
	All    Round = -1
)

// String is what Set takes.
func (r Round) String() string {
	switch r {
	case Latest:
		return "latest"
	case All:
		return "all"
	}
	return strconv.Itoa(int(r))
}

// Type names the value in help.
func (r Round) Type() string { return "latest|all|N" }

// Set takes latest, all or a number from 1.
func (r *Round) Set(text string) error {
	switch text {
	case "latest":
		*r = Latest
		return nil
	case "all":
		*r = All
		return nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		return errors.New("it is latest, all, or a round's number from 1")
	}
	*r = Round(n)
	return nil
}

// Rounds parts shots that have a station into rounds of test fires, by the times
// their photos were taken: a round ends where a station comes up again after
// another was photographed. Two photos of a station in a row are one round.
//
// It parts only where rounds are plain: two stations or more, and at least half
// of those that there are, must come up in more than one of them. Otherwise, and
// when a photo says no time, all shots are one round: a station that was gone
// back to for a better photo must not lose the others.
func Rounds(shots []Shot) [][]Shot {
	list := inTime(shots)
	for _, s := range list {
		if _, known := s.taken(); !known {
			return [][]Shot{list}
		}
	}
	rounds := passes(list)
	total := len(stationsOf(list))
	if again := comeAgain(rounds); again < 2 || 2*again < total {
		return [][]Shot{list}
	}
	return rounds
}

// passes cuts the list where a station comes up again.
func passes(list []Shot) (rounds [][]Shot) {
	var round []Shot
	seen := map[string]bool{}
	for i, s := range list {
		if seen[s.Station] && list[i-1].Station != s.Station {
			rounds = append(rounds, round)
			round, seen = nil, map[string]bool{}
		}
		seen[s.Station] = true
		round = append(round, s)
	}
	return append(rounds, round)
}

// comeAgain counts the stations that stand in more than one round.
func comeAgain(rounds [][]Shot) (again int) {
	count := map[string]int{}
	for _, round := range rounds {
		for _, name := range stationsOf(round) {
			count[name]++
		}
	}
	for _, n := range count {
		if n > 1 {
			again++
		}
	}
	return again
}

// pick parts the shots and gives those of the wanted round. The others come back
// without their station, and with the reason. remark is "" when there is
// nothing to say.
func pick(shots []Shot, want Round) (taken, left []Shot, remark string, err error) {
	if want == All || len(shots) == 0 {
		return shots, nil, "", nil
	}
	rounds := Rounds(shots)
	total := len(rounds)
	n := int(want)
	if want == Latest {
		n = total
	}
	if n > total {
		return nil, nil, "", &RoundError{Want: n, Have: total}
	}
	for i, round := range rounds {
		if i+1 == n {
			continue
		}
		for _, s := range round {
			s.Station = ""
			s.Reason = fmt.Sprintf("of round %d of %d, %s: give --round %d for a report of that round", i+1, total, span(round), i+1)
			left = append(left, s)
		}
	}
	if total > 1 {
		remark = fmt.Sprintf("the folder holds %d rounds by the times taken; the report is of round %d (%s). "+
			"Give --round N for another, --round all if they are one, or keep each round in a folder of its own", total, n, span(rounds[n-1]))
	}
	return rounds[n-1], left, remark, nil
}

// span is when a round was taken: "taken 2026-09-02 09:14 to 09:21".
func span(round []Shot) string {
	first, _ := round[0].taken()
	last, _ := round[len(round)-1].taken()
	const day, minute = "2006-01-02", "15:04"
	switch {
	case first.Format(day) != last.Format(day):
		return fmt.Sprintf("taken %s to %s", first.Format(day+" "+minute), last.Format(day+" "+minute))
	case last.Sub(first) < time.Minute:
		return "taken " + first.Format(day+" "+minute)
	}
	return fmt.Sprintf("taken %s to %s", first.Format(day+" "+minute), last.Format(minute))
}

// RoundError says that a round was asked for that the folder does not hold.
type RoundError struct{ Want, Have int }

// Error is one line.
func (e *RoundError) Error() string {
	if e.Have == 1 {
		return fmt.Sprintf("there is no round %d: the folder holds one round by the times taken", e.Want)
	}
	return fmt.Sprintf("there is no round %d: the folder holds %d by the times taken", e.Want, e.Have)
}
