package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/plan"
	"burngauge.dev/burngauge/pkg/plan/sheet"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// planOptions are what the command line of `mirrorplan plan` says.
type planOptions struct {
	streams terminal.Streams

	report, machine string
	past            []string // REPORT:PLAN
	outputs         []string
	json            bool
	style           string
	units, paper    string
	limit           float64 // mm; 0: the report's
}

// mostLimitMM bounds --limit: beyond any head's aperture.
const mostLimitMM = 1000

// newPlanCmd is `mirrorplan plan`.
func newPlanCmd(streams terminal.Streams) *cobra.Command {
	o := &planOptions{streams: streams, style: styleAll, units: string(report.Millimetres), paper: drawing.A4}
	cmd := &cobra.Command{
		Use:   "plan REPORT --machine PROFILE",
		Short: "Say which screws to turn, which way and how far",
		Long: `Say which screws to turn, which way and how far, from the report of a survey
(burngauge survey -o) and the profile of the machine (mirrorplan machine new). After
the turns, fire again and compare with the table of what to expect.

The plan goes to standard output; with -o also to files: .json for the next round and
for other programs, .pdf and .svg to take to the machine. Stations that were not
measured are done without when the others show enough; when they do not, the plan says
where to fire next.

Give the rounds before with --past, the oldest first, each as its report and the plan
that was followed: how the spots really moved shows how much each screw really does.
mirrorplan help planning goes through a round.

With --style walk the plan is the next step of the procedure by hand: one mirror only.

` + reminder,
		Example: `  mirrorplan plan report.json --machine machine.yaml
  mirrorplan plan report.json --machine machine.yaml -o plan.pdf -o plan.json
  mirrorplan plan round-2/report.json --machine machine.yaml --past round-1/report.json:round-1/plan.json
  mirrorplan plan report.json --machine machine.yaml --style walk`,
		Args:              command.One("report", "mirrorplan plan report.json --machine machine.yaml"),
		ValidArgsFunction: endings("json"),
		RunE: func(_ *cobra.Command, args []string) error {
			o.report = args[0]
			return runPlan(o)
		},
	}
	o.flags(cmd)
	return cmd
}

func (o *planOptions) flags(cmd *cobra.Command) {
	flags := cmd.Flags()
	machineFlag(cmd, &o.machine)
	pastFlag(cmd, &o.past)
	flags.StringArrayVarP(&o.outputs, "output", "o", nil, "also write the plan to `FILE`, which ends in .json, .pdf or .svg; may be given several times")
	flags.BoolVar(&o.json, "json", false, "write JSON to standard output instead of text")
	command.ChoiceFlag(cmd, &o.style, "style", "all screws at once, or the next step by hand", styleAll, styleWalk)
	command.ChoiceFlag(cmd, &o.units, "units", "unit of lengths in text and sheets; JSON is always in mm", string(report.Millimetres), string(report.Inches))
	command.ChoiceFlag(cmd, &o.paper, "paper", "paper of the PDF, and width of the SVG", drawing.Papers()...)
	flags.Var(command.Number{To: &o.limit, Least: 0, Most: mostLimitMM, What: "millimetres"}, "limit", "how far from the centre still counts as inside, in mm; 0: the report's own limit")
	command.Complete(cmd, "output", endings("json", "pdf", "svg"))
	command.Complete(cmd, "limit", cobra.NoFileCompletions)
}

// machineFlag adds --machine.
func machineFlag(cmd *cobra.Command, to *string) {
	cmd.Flags().StringVarP(to, "machine", "m", "", "profile of the machine, in `FILE`")
	command.Complete(cmd, "machine", endings("yaml", "yml"))
}

// pastFlag adds --past.
func pastFlag(cmd *cobra.Command, to *[]string) {
	cmd.Flags().StringArrayVar(to, "past", nil, "an earlier round: its report and the plan that was followed, as `REPORT:PLAN`; may be given several times, the oldest first")
	command.Complete(cmd, "past", endings("json"))
}

// endings completes to files that end in one of these.
func endings(list ...string) cobra.CompletionFunc {
	return cobra.FixedCompletions(list, cobra.ShellCompDirectiveFilterFileExt)
}

// runPlan makes the plan, writes it, and fails when it lies beyond the screws.
func runPlan(o *planOptions) error {
	if err := checkOutputs(o.outputs); err != nil {
		return err
	}
	s, err := o.make()
	if err != nil {
		return err
	}
	if err := writeOutputs(o.streams, s, o.outputs); err != nil {
		return err
	}
	if err := o.write(s); err != nil {
		return err
	}
	o.next(s.Plan)
	if s.Plan.Status == plan.StatusBeyond {
		return terminal.Fail(terminal.ExitBeyond, errors.New("beyond the screws: no turn of the mirrors' screws brings every station within the limit"),
			"what has to be moved stands under the plan's findings; mirrorplan help findings")
	}
	return nil
}

// make reads what the plan rests on and makes it.
func (o *planOptions) make() (sheet.Sheet, error) {
	profile, _, err := checked(o.streams, o.machine)
	if err != nil {
		return sheet.Sheet{}, err
	}
	r, err := readReport(o.streams, o.report)
	if err != nil {
		return sheet.Sheet{}, err
	}
	past, err := readPast(o.streams, o.past)
	if err != nil {
		return sheet.Sheet{}, err
	}
	warnOfPast(o.streams, profile, past, r)
	limit := o.limit
	if limit == 0 {
		limit = r.LimitMM
	}
	p, err := plan.Make(plan.Request{Profile: profile, Report: r, Past: past, Style: style(o.style), LimitMM: limit})
	if err != nil {
		hint := "mirrorplan machine check " + command.Quoted(o.machine)
		if len(past) > 0 {
			hint = "mirrorplan plan --help"
		}
		return sheet.Sheet{}, terminal.Fail(terminal.ExitUsage, fmt.Errorf("no plan from %s: %w", o.report, err), hint)
	}
	return sheet.Sheet{Plan: *p, Profile: profile, LimitMM: limit, Units: report.Units(o.units), Paper: o.paper}, nil
}

// write writes the plan to standard output.
func (o *planOptions) write(s sheet.Sheet) error {
	if o.json {
		return command.Written(encode(o.streams.Out, s.Plan))
	}
	return command.Written(notDrawn(s.WriteText(o.streams.Out, o.streams.OutColour)))
}

// next says how the round goes on, once there are turns to follow.
func (o *planOptions) next(p plan.Plan) {
	if len(p.Turns) == 0 {
		return
	}
	for _, path := range o.outputs {
		if ending(path) == ".json" {
			o.streams.Note("next, when the new marks are surveyed: mirrorplan plan NEW-REPORT --machine %s --past %s",
				command.Quoted(o.machine), command.Quoted(o.report)+":"+command.Quoted(path))
			return
		}
	}
	o.streams.Note("hint: -o plan.json keeps the plan: the next round learns from it")
}
