package main

import (
	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// version of the programs; a release build sets it with
// -ldflags "-X main.version=...".
var version = "0.1.0-dev"

// newRootCmd is `mirrorplan` with everything below it.
func newRootCmd(streams terminal.Streams) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "mirrorplan",
		Short: "From measured burn marks to turns of the mirrors' screws",
		Long: `mirrorplan reads the report of a survey and the profile of the machine, and says
which screws to turn, which way and how far, what to expect at every station
afterwards, and what no screw can cure.

It gives advice only and never commands a machine.`,
		Example: `  mirrorplan help planning                     # one round, from the report to the screws
  mirrorplan machine new > machine.yaml        # then put in your machine's numbers
  mirrorplan machine check machine.yaml
  mirrorplan plan report.json --machine machine.yaml -o plan.pdf -o plan.json
  mirrorplan plan report-2.json --machine machine.yaml --past report.json:plan.json`,
		Version: command.Version("mirrorplan", version),
	}
	command.Root(cmd, streams)
	cmd.AddCommand(newPlanCmd(streams), newMachineCmd(streams), newLearnCmd(streams))
	cmd.AddCommand(helpTopics()...)
	return cmd
}
