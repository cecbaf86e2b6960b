package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/caution"
	"burngauge.dev/burngauge/pkg/plan"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// helpTopics are commands that do nothing and only have a text: `mirrorplan help
// planning`. Where the code has a list, the text is printed from it.
func helpTopics() []*cobra.Command {
	return []*cobra.Command{
		{Use: "planning", Short: "One round, from the report to the screws; what ± means", Long: planningText},
		{Use: "statuses", Short: "What the statuses of a plan mean", Long: statusesText()},
		{Use: "findings", Short: "What the findings of a plan mean", Long: findingsText()},
		{Use: "plan-format", Short: "The keys of a plan's JSON", Long: planFormatText()},
		{Use: "machine-profile", Short: "What a machine's profile holds, and how to measure it", Long: machineProfileText()},
		{Use: "cautions", Aliases: []string{"safety"}, Short: "What to mind before firing, turning a screw or measuring", Long: cautionsText()},
		{Use: "exit-codes", Short: "What the exit codes mean", Long: exitCodesText()},
	}
}

// reminder stands wherever a person is asked to fire or to turn: the brief cautions.
var reminder = caution.Reminder(caution.Firing|caution.Turning, "mirrorplan help cautions", command.HelpWidth)

var planningText = `One round, from the report to the screws

  1. Fire a mark at each station and survey the photos (burngauge help photos):
         burngauge survey round-1 -o round-1/report.json
  2. Ask for the plan, and keep it: the next round learns from it.
         mirrorplan plan round-1/report.json --machine machine.yaml \
           -o round-1/plan.pdf -o round-1/plan.json
  3. Read what stands before the steps: what the screws cannot cure. Then do the steps
     in their order. Each turn counts from where the screw stands now, and is seen from
     the screw's head. An anticlockwise turn goes an eighth too far and comes back, so
     that the screw's play always lies on the same side.
  4. Fire again at every station, survey, and ask for the next plan:
         mirrorplan plan round-2/report.json --machine machine.yaml \
           --past round-1/report.json:round-1/plan.json
  5. Stop when the plan says that there is nothing to turn.

  A spot counts as inside when it lies within the limit with a probability of 95 %. The
  limit is the report's unless --limit gives another; the report's own default is the
  radius of the target's inner ring (common practice, no source).

What the ± of a first plan means

  The radius holds the spot in 95 of 100 cases. A first plan's is wide, and "borderline"
  then means not yet known. Until a past round has shown it, a screw is taken to move the
  spots by 1 ± ` + fmt.Sprintf("%g", plan.GainU) + ` times what the profile says (one standard uncertainty), because a plan
  must hold for a worn machine as for one that is as its profile says. The next marks
  decide. What no profile states, such as play in the rails or a loose mount, shows only
  in the marks.

What past rounds teach

  How the spots really moved shows how far each screw really moves its plate. --past
  gives a round's report and the plan that was followed, the oldest round first. A report
  counts for one round only. When the marks after a plan are as if its turns had not been
  done, had been done twice or had gone the other way, a finding says so, and nothing is
  learnt from that round.

  mirrorplan learn writes what was learnt into a new profile, for the next visit:
         mirrorplan learn round-2/report.json --machine machine.yaml \
           --past round-1/report.json:round-1/plan.json -o learnt.yaml

  With --style walk the plan is the next step of the procedure by hand: one mirror only.

` + reminder

// entries are words with their texts in two columns, broken to the help's width.
func entries(list []plan.Explained) string {
	wide := 0
	for _, e := range list {
		wide = max(wide, len(e.Word))
	}
	var b strings.Builder
	for _, e := range list {
		before := e.Word
		for _, line := range broken(e.Text, command.HelpWidth-wide-4) {
			fmt.Fprintf(&b, "  %-*s  %s\n", wide, before, line)
			before = ""
		}
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// broken are a text's lines of at most so many letters, but for longer words.
func broken(text string, width int) (lines []string) {
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case len([]rune(line))+1+len([]rune(word)) > width:
			lines, line = append(lines, line), word
		default:
			line += " " + word
		}
	}
	return append(lines, line)
}

func statusesText() string {
	return "What the statuses of a plan mean\n\n" + entries(plan.Statuses()) + "\n\n" + reminder
}

func findingsText() string {
	return `What the findings mean

  A finding is what no mirror screw can cure, or what the readings contradict. Each
  comes with its evidence: the numbers that it rests on.

` + entries(plan.FindingCodes()) + `

  A cure at the tube, a mount or the gantry is service on an open machine:
  mirrorplan help cautions.`
}

func planFormatText() string {
	return `The keys of a plan's JSON

  mirrorplan plan -o plan.json and --json write one object. A key of a list's entry
  stands here as list.key. Keys may be added; readers pass over what they do not
  know.

` + entries(plan.Keys())
}

func machineProfileText() string {
	return `What a machine's profile holds

  "mirrorplan machine new" prints a profile with a comment at every key. The machine in
  it is invented: no maker's, and not yours. Put in your machine's numbers, from the
  maker's drawing where there is one, else with a rule. 3 % is good enough: past rounds
  teach the rest. Lengths are in mm, x to the right, y to the rear, z up, as you stand in
  front of the machine.

` + entries([]plan.Explained{
		{Word: "source", Text: "where the beam leaves the tube, and which way it goes"},
		{Word: "mirrors", Text: "in the order in which the beam meets them: where they sit, what carries them, which way they look, and their mount's three screws"},
		{Word: "target", Text: "where the ring target sits in the head, and which way it looks"},
		{Word: "stations", Text: "where the head stands to be tested; photos are named after them"},
		{Word: "pointer", Text: "may be left out: the mount of the plate that lays the red pointer onto the beam"},
		{Word: "gain, gain_u", Text: "of a screw: what past rounds taught; mirrorplan learn writes them"},
		{Word: "rehearsal", Text: "may be left out: how far rehearse may put a simulated machine out of line"},
	}) + `

  "mirrorplan machine check" follows the beam through the profile and says what an eighth
  of a turn of each screw does. Check that at the machine with one turn.

` + reminder + `

Before you measure between the tube and the mirrors

` + caution.Wrap(append([]string{caution.Advice}, caution.For(caution.Measuring)...), command.HelpWidth)
}

func cautionsText() string {
	return `Before you fire or turn a screw

  mirrorplan gives advice and commands no machine. These lines do not replace local
  rules, the maker's instructions or your laser safety officer: where they differ,
  follow those.

` + caution.Text(command.HelpWidth) + `

Before you measure between the tube and the mirrors

` + caution.Wrap(caution.For(caution.Measuring), command.HelpWidth)
}

// exitCodes are those that mirrorplan may end with.
var exitCodes = []struct {
	code int
	text string
}{
	{terminal.ExitDone, "done: there is a plan, also when it says that nothing is to be turned, or where to fire before anything is"},
	{terminal.ExitFailed, "another failure"},
	{terminal.ExitUsage, "wrong usage, machine profile, report or plan"},
	{terminal.ExitBeyond, "beyond the screws: no plan reaches every station; what is known is written all the same"},
	{terminal.ExitNotWritten, "could not write a file or the results"},
	{terminal.ExitInterrupted, "interrupted"},
}

func exitCodesText() string {
	var list []plan.Explained
	for _, e := range exitCodes {
		list = append(list, plan.Explained{Word: fmt.Sprintf("%3d", e.code), Text: e.text})
	}
	return "Exit codes\n\n" + entries(list) + "\n\nResults go to standard output, everything else to standard error."
}
