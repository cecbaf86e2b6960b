package main

import (
	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/terminal"
)

// newHelpCmd is `burngauge help`, which unlike cobra's own fails on a topic
// that does not exist.
func newHelpCmd() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND|TOPIC]",
		Short: "Help about a command or a topic",
		ValidArgsFunction: func(cmd *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
			var names []cobra.Completion
			for _, c := range cmd.Root().Commands() {
				if len(args) == 0 && !c.Hidden {
					names = append(names, cobra.CompletionWithDesc(c.Name(), c.Short))
				}
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			about, rest, err := cmd.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return terminal.Usagef("burngauge help", "there is no help about %q", rest)
			}
			about.InitDefaultHelpFlag()
			return about.Help()
		},
	}
}

// helpTopics are commands that do nothing and only have a text: `burngauge help
// photos`.
func helpTopics() []*cobra.Command {
	return []*cobra.Command{
		{Use: "photos", Short: "How to fire a mark safely and take a photo that can be measured", Long: photosText},
		{Use: "exit-codes", Short: "What the exit codes mean", Long: exitCodesText},
	}
}

const exitCodesText = `Exit codes

    0  done
    1  another failure
    2  wrong usage, or a wrong target spec, job file or report
    3  some photos were not measured, have no station or are missing; the rest was done
    4  verify found a difference between a report and its photos
    6  could not write a file or the results
    7  a mark is outside the limit; only with --fail-outside
  130  interrupted

When several hold, the first of 130, 2, 6, 4, 7, 3 is given. Results go to standard
output, everything else to standard error.`

const photosText = `A photo that can be measured

  Hold the phone squarely over the target, 15 to 25 cm away, and let the target fill
  a quarter to a half of the photo's short side. A tilt up to 30 degrees does little
  harm; beyond 50 degrees a photo is refused.
  Keep every ring and the index mark in the picture. The photo may be turned any way:
  the index mark shows where the top is.
  Use soft light from the side. Switch the flash off: its glare hides lines and marks.
  Tap on the target to focus, and hold still.
  One mark on each piece of tape: two pulses on one tape are refused.
  JPEG, HEIC, AVIF and PNG are read, as the phone writes them.
  Send the photo as a file. Messengers shrink photos and drop the lens data, which a
  target with a single ring needs.
  Of a target with one ring only, take two photos, tilted to opposite sides.

Before you fire

  These lines do not replace local rules, the machine maker's instructions or your
  laser safety officer: where they differ, follow those. burngauge gives advice only
  and never commands a laser.

  Mark with the covers closed wherever the machine allows it, and never defeat an
  interlock for a test mark. With a cover open, a machine that is safe when closed is
  an open Class 4 laser, with all that this demands.
  The beam cannot be seen. It burns eye and skin at once, straight from the tube, off
  a mirror or off a stray surface: lowest power and shortest pulse that leave a mark.
  Keep face, hands and sleeves away from the beam's path. Switch to safe and wait
  before you reach in to place or remove a target; never hold one.
  Opening covers to adjust is service: for trained people, as the maker instructs, in
  a cleared and marked place. Restore and test every interlock afterwards.
  Everyone near an open machine wears eyewear marked for 10 600 nm. Ordinary glasses
  do not protect, and eyewear is the last barrier, not the first.
  The tube's supply carries lethal high voltage: no hands near it unless the mains is
  isolated and the charge is gone. Never fire without coolant flowing.
  Tape, paper and plastic burn: put something fire-proof behind the target, have an
  extinguisher at hand, and stay until all is cold.
  Run the extraction. No vinyl or other chlorinated tape: its smoke is poisonous.`
