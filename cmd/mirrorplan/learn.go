package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/plan"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// learnOptions are what the command line of `mirrorplan learn` says.
type learnOptions struct {
	streams terminal.Streams

	report, machine, output string
	past                    []string // REPORT:PLAN
}

// newLearnCmd is `mirrorplan learn`.
func newLearnCmd(streams terminal.Streams) *cobra.Command {
	o := &learnOptions{streams: streams}
	cmd := &cobra.Command{
		Use:   "learn REPORT --machine PROFILE --past REPORT:PLAN -o PROFILE2",
		Short: "Put what past rounds taught about the screws into a new profile",
		Long: `Put what past rounds taught into a new profile: how far each screw really moves the
spot. REPORT is the latest survey; each --past is a round before it, with the plan that
was followed, the oldest first. The next visit to the same machine starts from there.

Nothing is learnt from a round that contradicts its plan, as when another screw was
turned: that is said.`,
		Example:           "  mirrorplan learn round-2/report.json --machine machine.yaml --past round-1/report.json:round-1/plan.json -o learnt.yaml",
		Args:              command.One("report", "mirrorplan learn report-2.json --machine machine.yaml --past report.json:plan.json -o learnt.yaml"),
		ValidArgsFunction: endings("json"),
		RunE: func(_ *cobra.Command, args []string) error {
			o.report = args[0]
			return runLearn(o)
		},
	}
	machineFlag(cmd, &o.machine)
	pastFlag(cmd, &o.past)
	cmd.Flags().StringVarP(&o.output, "output", "o", "", "write the new profile to `FILE`")
	command.Complete(cmd, "output", endings("yaml", "yml"))
	return cmd
}

// check wants a round to learn from and a file to write to.
func (o *learnOptions) check() error {
	switch {
	case len(o.past) == 0:
		return terminal.Usagef("mirrorplan learn "+command.Quoted(o.report)+" "+pastHint+" --machine machine.yaml -o learnt.yaml", "no past round to learn from: give --past REPORT:PLAN")
	case o.output == "":
		return terminal.Usagef("mirrorplan learn "+command.Quoted(o.report)+" --machine machine.yaml "+pastHint+" -o learnt.yaml", "no file for the new profile: give -o FILE")
	}
	return nil
}

// runLearn writes the new profile and says what was learnt.
func runLearn(o *learnOptions) error {
	if err := o.check(); err != nil {
		return err
	}
	profile, _, err := checked(o.streams, o.machine)
	if err != nil {
		return err
	}
	r, err := readReport(o.streams, o.report)
	if err != nil {
		return err
	}
	past, err := readPast(o.streams, o.past)
	if err != nil {
		return err
	}
	warnOfPast(o.streams, profile, past, r)
	learnt, err := plan.Learn(profile, past, r)
	if err != nil {
		return terminal.Fail(terminal.ExitUsage, fmt.Errorf("nothing learnt from %s: %w", o.report, err), "mirrorplan learn --help")
	}
	text := learnt.Apply(profile).YAML()
	err = terminal.WriteFile(o.output, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
	if err != nil {
		return err
	}
	return o.write(learnt)
}

// write lists the gains, then what did not fit.
func (o *learnOptions) write(l plan.Learnt) error {
	rows := tabwriter.NewWriter(o.streams.Out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(rows, "screw\tgain")
	learnt := 0
	for i, s := range l.Screws {
		if l.New[i] {
			fmt.Fprintf(rows, "%s/%s\t%s\n", s.Mirror, s.Screw, report.Format(l.Gain[i], l.U[i]))
			learnt++
		} else {
			fmt.Fprintf(rows, "%s/%s\tnothing learnt\n", s.Mirror, s.Screw)
		}
	}
	if err := rows.Flush(); err != nil {
		return command.Written(err)
	}
	for _, f := range l.Findings {
		o.streams.Note("finding (%s): %s (%s)", f.Code, f.Text, f.Evidence)
	}
	o.streams.Note("written: %s, with the gains of %d of %d screws; 1 is what the profile's pitch and places lead to, ± is one standard uncertainty", o.output, learnt, len(l.Screws))
	return nil
}
