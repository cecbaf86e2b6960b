package main

import (
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// newRootCmd is `burngauge` with everything below it.
func newRootCmd(streams terminal.Streams) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "burngauge",
		Short: "Measure laser burn marks in phone photos of ring targets",
		Long: `burngauge says where a burn mark sits on a ring target: in millimetres and in
rings, with its uncertainty, from an ordinary phone photo. What cannot be measured
is refused, with what to do next.

It gives advice only and never commands a laser.`,
		Example: `  burngauge measure rear-left.jpg
  burngauge target -o sheet.pdf
  burngauge help photos`,
		Version: versionText(),
	}
	command.Root(cmd, streams)
	cmd.RunE = photoMeant(cmd.RunE)
	cmd.AddCommand(newMeasureCmd(streams), newSurveyCmd(streams), newEvidenceCmd(streams), newVerifyCmd(streams),
		newHistoryCmd(streams), newTargetCmd(streams))
	cmd.AddCommand(helpTopics()...)
	return cmd
}

// photoMeant names the right command to whoever gives a photo without one.
func photoMeant(otherwise func(*cobra.Command, []string) error) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) > 0 {
			if _, err := os.Stat(args[0]); err == nil {
				return terminal.Usagef(fmt.Sprintf("burngauge measure %q", args[0]), "there is no command %q", args[0])
			}
		}
		return otherwise(cmd, args)
	}
}
