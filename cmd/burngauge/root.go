package main

import (
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/terminal"
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
		Version:                    versionText(),
		Args:                       cobra.ArbitraryArgs, // so that unknown commands come to RunE
		SilenceErrors:              true,
		SilenceUsage:               true,
		SuggestionsMinimumDistance: 2, // letters
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			return unknownCommand(cmd, args[0])
		},
	}
	cmd.SetIn(streams.In)
	cmd.SetOut(streams.Out)
	cmd.SetErr(streams.Err)
	cmd.SetVersionTemplate("{{.Version}}\n")
	cmd.SetFlagErrorFunc(wrongFlag)
	cmd.AddCommand(newMeasureCmd(streams), newSurveyCmd(streams), newEvidenceCmd(streams), newVerifyCmd(streams),
		newHistoryCmd(streams), newTargetCmd(streams))
	cmd.AddCommand(helpTopics()...)
	cmd.SetHelpCommand(newHelpCmd())
	return cmd
}

// wrongFlag turns a flag that was not understood into a usage failure.
func wrongFlag(cmd *cobra.Command, err error) error {
	return terminal.Usagef(cmd.CommandPath()+" --help", "%w", err)
}

// unknownCommand guesses what was meant: a photo without `measure`, or a
// misspelt command.
func unknownCommand(cmd *cobra.Command, name string) error {
	hint := "burngauge --help"
	if _, err := os.Stat(name); err == nil {
		hint = fmt.Sprintf("burngauge measure %q", name)
	} else if near := cmd.SuggestionsFor(name); len(near) > 0 {
		hint = "did you mean: burngauge " + strings.Join(near, ", burngauge ")
	}
	return terminal.Usagef(hint, "there is no command %q", name)
}
