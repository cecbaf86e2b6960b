package main

import (
	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/caution"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

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
    2  wrong usage, or a wrong target spec, job file, report, machine profile or plan
    3  some photos were not measured, have no station or are missing; the rest was done
    4  verify found a difference between a report and its photos
    6  could not write a file or the results
    7  a mark is outside the limit; only with --fail-outside
  130  interrupted

When several hold, the first of 130, 2, 6, 4, 7, 3 is given. Results go to standard
output, everything else to standard error.`

var photosText = `A photo that can be measured

  Hold the phone squarely over the target, 15 to 25 cm away, and let the target fill
  a quarter to a half of the photo's short side. A tilt up to 30 degrees does little
  harm; more than about 55 degrees is refused.
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

` + caution.Text(command.HelpWidth)
