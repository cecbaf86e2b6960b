package main

import (
	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/measure"
	"burngauge.dev/burngauge/pkg/terminal"
)

// measureOptions are what the command line of `burngauge measure` says.
type measureOptions struct {
	streams terminal.Streams

	photos []string
	measuring
	json, ndjson bool
	explain      bool
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
says what to do; the others are still measured, and the exit code is 3.

With --explain the table is followed by the decisions of each photo, in the order in
which they fell: name, value, test, limit, and what followed. A name is the package and
the field of its settings; the line that refused the photo stands first, and has an
arrow => in its place. What its words mean: burngauge help refusals.`,
		Example: `  Measure one photo of the default target, plain-4:
    burngauge measure rear-left.jpg

  All photos of a folder, on another target, with a picture of each result:
    burngauge measure --target wide-3 --overlay results photos/*.jpg

  The red pointer dot and the burn, as JSON for a script:
    burngauge measure --mark both --json rear-left.jpg

  Why was this photo refused?
    burngauge measure --explain rear-left.jpg

  Fail when a burn lies more than 1.5 mm from the centre:
    burngauge measure --limit 1.5 --fail-outside *.jpg`,
		ValidArgsFunction: fileEndings(photoEndings...),
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
	addMeasuringFlags(cmd, &o.measuring)
	flags := cmd.Flags()
	flags.BoolVar(&o.json, "json", false, "write one JSON document")
	flags.BoolVar(&o.ndjson, "ndjson", false, ndjsonUsage)
	flags.BoolVar(&o.explain, "explain", false, "show each decision: value, limit and what followed; in JSON as decisions")
}

// settings checks the command line and turns it into what the measuring wants.
func (o *measureOptions) settings() (measure.Options, error) {
	if len(o.photos) == 0 {
		return measure.Options{}, terminal.Usagef("burngauge measure PHOTO.jpg", "no photo given")
	}
	for _, path := range o.photos {
		switch path {
		case "":
			return measure.Options{}, terminal.Usagef("burngauge measure PHOTO.jpg", "a photo's name is empty")
		case "-":
			return measure.Options{}, terminal.Usagef("burngauge measure PHOTO.jpg; a file called - is ./-", "standard input is not read: name the photo's file")
		}
	}
	if o.json && o.ndjson {
		return measure.Options{}, terminal.Usagef("burngauge measure --json PHOTO.jpg", "--json and --ndjson exclude each other")
	}
	settings, err := o.measuring.settings()
	settings.Explain = o.explain
	return settings, err
}
