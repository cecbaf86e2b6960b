package main

import (
	"errors"
	"math/rand/v2"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// newOptions are what the command line of `rehearse new` says.
type newOptions struct {
	streams terminal.Streams

	bench   string
	seed    uint64
	seeded  bool   // a seed was given
	profile string // file, "": the built-in starter
	level   string
}

// newNewCmd is `rehearse new`.
func newNewCmd(streams terminal.Streams) *cobra.Command {
	o := &newOptions{streams: streams, level: string(rehearsal.Easy)}
	cmd := &cobra.Command{
		Use:   "new BENCH",
		Short: "Make a simulated machine that is out of line",
		Long: `Make a simulated machine that is out of line, in the new folder BENCH.

Levels: at easy, only mirrors, source and pointer are out of line. At worn, lengths also
differ from the profile by up to 3 % and the pitch of screws by up to 15 %, and the gantry
is twisted by up to 0.1 mm. At hard it is 8 %, 30 % and 0.25 mm, and the screws have
backlash. The profile can set other ranges, in its part rehearsal. Every machine's tape has
a height of its own, 0.12 mm on average with a standard deviation of 0.04 mm. The same
seed, level and profile give the same machine, down to the bytes of its photos.

BENCH/machine.yaml is the profile: what whoever works on the machine knows of it.
BENCH/bench.json is the machine itself, with what is hidden. The built-in machine is
invented.`,
		Example: `  rehearse new bench
  rehearse new bench --level hard --seed 12
  rehearse new bench --machine my-machine.yaml`,
		Args: command.One("bench", "rehearse new bench"),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.bench, o.seeded = args[0], cmd.Flags().Changed("seed")
			return runNew(o)
		},
	}
	flags := cmd.Flags()
	flags.Uint64Var(&o.seed, "seed", 0, "number that decides all that is hidden (default: another one each time)")
	flags.StringVar(&o.profile, "machine", "", "machine profile in `FILE` (default: a built-in bed of 900 x 600 mm)")
	command.ChoiceFlag(cmd, &o.level, "level", "how far the machine departs from its profile", words(rehearsal.Levels)...)
	command.Complete(cmd, "machine", cobra.FixedCompletions([]cobra.Completion{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt))
	command.Complete(cmd, "seed", cobra.NoFileCompletions)
	return cmd
}

// words turns a list of named words into plain ones.
func words[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = string(w)
	}
	return out
}

// seedsFrom bounds the seeds that are drawn, so that they are short to type.
const seedsFrom = 1_000_000

// runNew makes the bench.
func runNew(o *newOptions) error {
	if occupied(o.bench) {
		return terminal.Fail(terminal.ExitNotWritten, errors.New(o.bench+" is there already"), "rehearse new ANOTHER-NAME, or go on with rehearse show "+command.Quoted(o.bench))
	}
	profile, text := machine.Default(), machine.StarterYAML()
	if o.profile != "" {
		var err error
		if profile, text, err = machine.Load(o.profile); err != nil {
			return terminal.Fail(terminal.ExitUsage, err, "rehearse new "+command.Quoted(o.bench)+" makes one of the built-in profile, to be seen in machine.yaml")
		}
	}
	if !o.seeded {
		o.seed = 1 + rand.Uint64N(seedsFrom)
	}
	bench, err := rehearsal.NewBench(profile, o.seed, rehearsal.Level(o.level))
	if err != nil {
		return terminal.Fail(terminal.ExitUsage, err, "rehearse new --help")
	}
	f := &folder{o.bench, bench, text}
	if err := f.create(); err != nil {
		return err
	}
	o.streams.Note("%s made: %s, level %s, seed %d", o.bench, profile.Name, o.level, o.seed)
	o.streams.Note("next: rehearse fire %s -o round-1", command.Quoted(o.bench))
	return nil
}
