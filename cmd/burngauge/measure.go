package main

import (
	"errors"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/measure"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/target"
	"burngauge.dev/burngauge/pkg/terminal"
)

// Values of --roll.
const (
	rollIndex = "index" // the index mark decides
	rollPhoto = "photo" // the photo's top is the target's top
)

// measureOptions are what the command line of `burngauge measure` says.
type measureOptions struct {
	streams terminal.Streams

	photos       []string
	target       string  // built-in name or spec file
	mark         string  // burn, pointer or both
	limitMM      float64 // 0: the inner ring's radius
	roll         string
	units        string // of the table
	json, ndjson bool
	overlayDir   string // "": none
	failOutside  bool
}

// newMeasureCmd is `burngauge measure`.
func newMeasureCmd(streams terminal.Streams) *cobra.Command {
	o := &measureOptions{streams: streams}
	cmd := &cobra.Command{
		Use:   "measure PHOTO...",
		Short: "Measure the mark in each photo",
		Long: `Measure where the mark sits on the ring target in each photo.

Right and up are as one sees the target facing it, with its index mark at the top;
the photo may be turned any way. The stated radius holds the true offset with a
probability of 95 %. A photo that cannot be measured is refused with a sentence that
says what to do; the others are still measured, and the exit code is 3.`,
		Example: `  Measure one photo of the default target, plain-4:
    burngauge measure rear-left.jpg

  All photos of a folder, on another target, with a picture of each result:
    burngauge measure --target wide-3 --overlay results photos/*.jpg

  The red pointer dot and the burn, as JSON for a script:
    burngauge measure --mark both --json rear-left.jpg

  Fail when a burn lies more than 1.5 mm from the centre:
    burngauge measure --limit 1.5 --fail-outside *.jpg`,
		ValidArgsFunction: fileEndings("jpg", "jpeg", "png", "heic", "heif", "avif", "JPG", "JPEG", "PNG", "HEIC", "HEIF", "AVIF"),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.photos = args
			settings, err := o.settings()
			if err != nil {
				return err
			}
			return runMeasure(cmd.Context(), o, settings)
		},
	}
	addMeasureFlags(cmd, o)
	return cmd
}

func addMeasureFlags(cmd *cobra.Command, o *measureOptions) {
	flags := cmd.Flags()
	flags.StringVar(&o.target, "target", target.DefaultName, "built-in target, as burngauge target --list shows them, or spec file (`NAME|FILE`)")
	choiceFlag(cmd, &o.mark, "mark", "mark to measure", measure.Burn, measure.Pointer, measure.Both)
	flags.Var(length{to: &o.limitMM}, "limit", "distance from the centre that still counts as inside (default: the inner ring's radius)")
	choiceFlag(cmd, &o.roll, "roll", "what shows the target's top: its index mark, or the photo's own top", rollIndex, rollPhoto)
	choiceFlag(cmd, &o.units, "units", "unit of the table; JSON is always in mm", string(report.Millimetres), string(report.Inches))
	flags.BoolVar(&o.json, "json", false, "write one JSON document")
	flags.BoolVar(&o.ndjson, "ndjson", false, "write one line of JSON for each measurement, as each is done")
	flags.StringVar(&o.overlayDir, "overlay", "", "write a picture of each result into the folder `DIR`")
	flags.BoolVar(&o.failOutside, "fail-outside", false, "exit with code 7 when a mark is outside the limit")
	complete(cmd, "target", target.Names(), cobra.ShellCompDirectiveDefault)
	complete(cmd, "limit", nil, cobra.ShellCompDirectiveNoFileComp)
	if err := cmd.MarkFlagDirname("overlay"); err != nil {
		panic(err) // the flag does not exist: a programmer's error
	}
}

// settings checks the command line and turns it into what the measuring wants.
func (o *measureOptions) settings() (measure.Options, error) {
	if len(o.photos) == 0 {
		return measure.Options{}, terminal.Usagef("burngauge measure PHOTO.jpg", "no photo given")
	}
	if o.json && o.ndjson {
		return measure.Options{}, terminal.Usagef("burngauge measure --json PHOTO.jpg", "--json and --ndjson exclude each other")
	}
	spec, err := loadTarget(o.target)
	if err != nil {
		return measure.Options{}, err
	}
	settings := measure.DefaultOptions()
	settings.Target = spec
	settings.Mark = o.mark
	settings.LimitMM = o.limitMM
	settings.RollPhoto = o.roll == rollPhoto
	return settings, nil
}

// loadTarget reads a target; a wrong spec is a wrong use of the command.
func loadTarget(name string) (target.Spec, error) {
	spec, err := target.Load(name)
	var wrong *target.SpecError
	if errors.As(err, &wrong) {
		return target.Spec{}, terminal.Fail(terminal.ExitUsage, err, "burngauge target --list")
	}
	return spec, err
}
