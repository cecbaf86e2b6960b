package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/caution"
	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// newMachineCmd is `mirrorplan machine` with its two commands.
func newMachineCmd(streams terminal.Streams) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "machine",
		Short: "Make or check the profile of a machine",
		Long: `A profile says where source, mirrors, screws and target sit and at which stations the
head is tested. Start from the one that "machine new" prints, put in your machine's
numbers, and see with "machine check" what they lead to.

Measuring a machine behind its covers is work for trained people, with mains off,
secured and checked: mirrorplan help machine-profile, before you begin.`,
		Example: `  mirrorplan machine new > machine.yaml
  mirrorplan machine check machine.yaml`,
		Args: cobra.ArbitraryArgs, // so that unknown commands come to RunE
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			return terminal.Usagef("mirrorplan machine new, or mirrorplan machine check machine.yaml", "there is no command %q", "machine "+args[0])
		},
	}
	cmd.AddCommand(newMachineNewCmd(streams), newMachineCheckCmd(streams))
	return cmd
}

// newMachineNewCmd is `mirrorplan machine new`.
func newMachineNewCmd(streams terminal.Streams) *cobra.Command {
	return &cobra.Command{
		Use:   "new",
		Short: "Print a profile with comments, to be changed into yours",
		Long: `Print a profile with comments, of an invented machine of a common build: a bed of 900 x
600 mm with its tube along the rear. Save it and put in your machine's numbers, from the
maker's drawing or with a rule: 3 % is good enough, and the rounds at the machine teach
the rest.

Before you measure between the tube and the mirrors:

` + caution.Wrap(append([]string{caution.Advice}, caution.For(caution.Measuring)...), command.HelpWidth),
		Example: "  mirrorplan machine new > machine.yaml",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return terminal.Usagef("mirrorplan machine new > "+command.Quoted(args[0]), "machine new takes no argument: it prints the profile")
			}
			return nil
		},
		RunE: func(*cobra.Command, []string) error {
			_, err := streams.Out.Write(machine.StarterYAML())
			return command.Written(err)
		},
	}
}

// newMachineCheckCmd is `mirrorplan machine check`.
func newMachineCheckCmd(streams terminal.Streams) *cobra.Command {
	asJSON := false
	cmd := &cobra.Command{
		Use:   "check PROFILE",
		Short: "Follow the beam through a profile; say what each screw does",
		Long: `Follow the beam from the source by way of the mirrors to the target at every station,
and say how many millimetres an eighth of a turn of each screw moves the spot there.
What does not fit is named: mirrors that do not hand the beam on to each other, a beam
that misses the target, screws in a line.

One turn at the machine checks the table: fire, turn one screw by an eighth, fire again.
When the spot moves the other way, the profile's "clockwise" is wrong, or a screw's
letter.

` + reminder,
		Example: `  mirrorplan machine check machine.yaml
  mirrorplan machine check machine.yaml --json`,
		Args:              command.One("profile", "mirrorplan machine check machine.yaml"),
		ValidArgsFunction: endings("yaml", "yml"),
		RunE: func(_ *cobra.Command, args []string) error {
			return runMachineCheck(streams, args[0], asJSON)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "write JSON: the nominal spots, and millimetres per whole turn")
	return cmd
}

// runMachineCheck says what a profile leads to.
func runMachineCheck(streams terminal.Streams, path string, asJSON bool) error {
	profile, _, err := readProfile(path)
	if err != nil {
		return err
	}
	if err := unfit(streams, path, profile.Check()); err != nil {
		return err
	}
	response, err := profile.Response()
	if err != nil {
		return terminal.Fail(terminal.ExitUsage, fmt.Errorf("machine profile %s: %w", path, err), "mirrorplan machine new shows a profile with comments")
	}
	if asJSON {
		return command.Written(writeResponse(streams.Out, response))
	}
	return command.Written(writeCheck(streams.Out, profile, response))
}

// unfit says what does not fit: one thing in the error's line, several before it.
func unfit(streams terminal.Streams, path string, problems []machine.Problem) error {
	const hint = "correct the profile; mirrorplan machine new shows one with comments"
	switch len(problems) {
	case 0:
		return nil
	case 1:
		return terminal.Fail(terminal.ExitUsage, fmt.Errorf("machine profile %s: %s", path, problems[0].Text), hint)
	}
	for _, p := range problems {
		streams.Note("problem (%s): %s", p.Code, p.Text)
	}
	return terminal.Fail(terminal.ExitUsage, fmt.Errorf("machine profile %s: %d things do not fit", path, len(problems)), hint)
}
