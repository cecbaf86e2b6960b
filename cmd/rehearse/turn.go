package main

import (
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/disk"
	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// turnOptions are what the command line of `rehearse turn` says.
type turnOptions struct {
	streams terminal.Streams

	bench, plan string
	screw       string
	turns       float64
	both        bool // --screw and --turns were given
}

// mostTurns bounds --turns; the screw's own travel is checked later.
const mostTurns = 1000

// newTurnCmd is `rehearse turn`.
func newTurnCmd(streams terminal.Streams) *cobra.Command {
	o := &turnOptions{streams: streams}
	cmd := &cobra.Command{
		Use:   "turn BENCH (PLAN | --screw SCREW --turns N)",
		Short: "Turn screws, as a plan says or one by hand",
		Long: `Turn screws of the simulated machine: all of a plan's, in its order, or one by hand.

Positive turns are clockwise, seen from the screw's head. When one of the turns goes
beyond a screw's travel, none is made. Where the machine's profile has a part pointer,
the screws of the red pointer's mount are called pointer/A, pointer/B and pointer/C.

` + reminder,
		Example: `  rehearse turn bench plan.json
  rehearse turn bench --screw "mirror 1/A" --turns -0.25`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return terminal.Usagef("rehearse turn BENCH plan.json", "no bench given")
			}
			if len(args) > 2 {
				return terminal.Usagef("rehearse turn --help", "a bench and one plan are taken, %d arguments were given", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			o.bench = args[0]
			if len(args) == 2 {
				o.plan = args[1]
			}
			screw, turns := cmd.Flags().Changed("screw"), cmd.Flags().Changed("turns")
			o.both = screw && turns
			if screw != turns || o.both == (o.plan != "") {
				return terminal.Usagef(`rehearse turn BENCH --screw "mirror 1/A" --turns -0.25`, "give either a plan or both --screw and --turns")
			}
			return runTurn(cmd.Context(), o)
		},
	}
	cmd.Flags().StringVar(&o.screw, "screw", "", "the `SCREW` to turn, like \"mirror 1/A\"")
	cmd.Flags().Var(command.Number{To: &o.turns, Least: -mostTurns, Most: mostTurns, What: "turns"}, "turns", "how far, clockwise positive")
	command.Complete(cmd, "screw", completeScrew)
	command.Complete(cmd, "turns", cobra.NoFileCompletions)
	return cmd
}

// completeScrew offers the screws of the bench that is named.
func completeScrew(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
	var names []cobra.Completion
	if len(args) > 0 {
		if f, err := open(args[0]); err == nil {
			for _, m := range f.bench.Mounts() {
				for _, s := range machine.ScrewNames {
					names = append(names, m.Label()+"/"+s)
				}
			}
		}
	}
	return names, cobra.ShellCompDirectiveNoFileComp
}

// runTurn turns, and prints what was turned.
func runTurn(ctx context.Context, o *turnOptions) error {
	f, release, err := openToChange(ctx, o.streams, o.bench)
	if err != nil {
		return err
	}
	defer release()
	turns, err := o.list(f.bench)
	if err != nil {
		return err
	}
	if len(turns) == 0 {
		o.streams.Note("the plan turns no screw")
		return nil
	}
	before := len(f.bench.Turns())
	if err := f.bench.TurnAll(turns); err != nil {
		return terminal.Fail(terminal.ExitUsage, err, "rehearse show "+command.Quoted(o.bench))
	}
	if err := f.save(); err != nil {
		return err
	}
	if err := command.Written(writeTurns(o.streams.Out, f.bench, f.bench.Turns()[before:])); err != nil {
		return err
	}
	o.streams.Note("%s", reminder)
	o.streams.Note("next: rehearse fire %s -o round-%d", command.Quoted(o.bench), f.bench.Round())
	return nil
}

// list is what to turn.
func (o *turnOptions) list(bench *rehearsal.Bench) ([]rehearsal.Turn, error) {
	if o.both {
		mirror, screw, err := rehearsal.ParseScrew(o.screw)
		if err != nil {
			return nil, terminal.Fail(terminal.ExitUsage, err, "rehearse turn --help")
		}
		return []rehearsal.Turn{{Mirror: mirror, Screw: screw, Turns: o.turns}}, nil
	}
	file, err := os.Open(o.plan)
	if err != nil {
		return nil, terminal.Usagef("mirrorplan plan report.json --machine "+command.Quoted(filepath.Join(o.bench, profileName))+" -o plan.json", "plan %s: %w", o.plan, disk.Cause(err))
	}
	defer file.Close()
	plan, err := rehearsal.ReadPlan(file)
	if err != nil {
		return nil, terminal.Usagef("mirrorplan plan --help", "plan %s: %w", o.plan, err)
	}
	if plan.Machine != "" && plan.Machine != bench.Profile.Name {
		o.streams.Note("warning: the plan is for %q, this machine is %q", plan.Machine, bench.Profile.Name)
	}
	return plan.Turns, nil
}

// writeTurns is a table of what was turned.
func writeTurns(w io.Writer, bench *rehearsal.Bench, turns []rehearsal.Turn) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "mirror\tscrew\tturned\tway")
	for _, turn := range turns {
		fmt.Fprintf(t, "%s\t%s\t%.4g\t%s\n", turn.Mirror, turn.Screw, math.Abs(turn.Turns), way(turn.Turns))
	}
	return t.Flush()
}

// way is a turn's direction in words.
func way(turns float64) string {
	switch {
	case turns > 0:
		return "clockwise"
	case turns < 0:
		return "anticlockwise"
	}
	return "-"
}
