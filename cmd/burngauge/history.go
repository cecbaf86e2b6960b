package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/history"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

const historyHint = "burngauge history --help"

// historyOptions are what the command line of `burngauge history` says.
type historyOptions struct {
	streams terminal.Streams
	folder  string
	machine string // "": the one there is
	units   string
	output  string // of the chart, "": none
}

// newHistoryCmd is `burngauge history`.
func newHistoryCmd(streams terminal.Streams) *cobra.Command {
	o := &historyOptions{streams: streams}
	cmd := &cobra.Command{
		Use:   "history FOLDER",
		Short: "Show how a machine's stations drifted over its reports",
		Long: `Show the reports of one machine over time: a table with each station's distance
from the centre, and with -o a chart of each station's drift. Reports are found in
the folder and its sub-folders, whatever they are called, as long as they end in
.json; other JSON files are passed over, and so are copies of one report. Each stands
at the time of its photos, or of the report where they have none.

A report's machine is what --machine or job.yaml said when it was surveyed. When the
folder holds several machines' reports, --machine NAME chooses one; any part of its
name that no other has will do.`,
		Example: `  The table:
    burngauge history service/F-0017

  A chart too, of one machine out of many:
    burngauge history service --machine F-0017 -o drift.svg`,
		ValidArgsFunction: oneFolder,
		RunE: func(_ *cobra.Command, args []string) error {
			if err := command.One("folder", "burngauge history FOLDER")(nil, args); err != nil {
				return err
			}
			o.folder = args[0]
			return runHistory(o)
		},
	}
	flags := cmd.Flags()
	flags.Var(command.Name{To: &o.machine, Kind: "NAME"}, "machine", "the machine's name, or a part of it, as the reports have it")
	flags.VarP(command.Name{To: &o.output, Kind: "FILE"}, "output", "o", "draw a chart into FILE, which ends in .svg or .png")
	addUnitsFlag(cmd, &o.units, "unit of the lengths")
	command.Complete(cmd, "output", cobra.FixedCompletions([]string{"svg", "png"}, cobra.ShellCompDirectiveFilterFileExt))
	command.Complete(cmd, "machine", cobra.FixedCompletions(nil, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

// runHistory finds the machine's reports and prints them.
func runHistory(o *historyOptions) error {
	draw, err := o.kind()
	if err != nil {
		return err
	}
	if err := checkFolder(o.folder); err != nil {
		return err
	}
	if o.output != "" {
		if err := checkOutput(o.output); err != nil {
			return err
		}
	}
	all, changed, wrong := findReports(o.folder)
	for _, err := range wrong {
		o.streams.Note("passed over: %v", err)
	}
	for _, path := range changed {
		o.streams.Note(changedText, path, path)
	}
	reports, err := ofMachine(all, o.machine, o.folder)
	if err != nil {
		return err
	}
	units := report.Units(o.units)
	err = history.WriteTable(o.streams.Out, reports, units)
	var input *history.InputError
	switch {
	case errors.As(err, &input):
		return terminal.Fail(terminal.ExitUsage, err, historyHint)
	case err != nil:
		return command.Written(err)
	}
	if draw != nil {
		if err := writeWhole(o.output, func(w io.Writer) error { return draw(w, reports, units) }); err != nil {
			return err
		}
		o.streams.Note("%s written", o.output)
		if unshown := history.Unshown(reports); len(unshown) > 0 {
			o.streams.Note("the chart shows ? for letters that its font lacks, in %s; the table has them", someOf(unshown))
		}
	}
	if len(wrong) > 0 {
		return terminal.Fail(terminal.ExitUsage, fmt.Errorf("%s not be read", count(len(wrong), "report could", "reports could")), "")
	}
	return nil
}

// kind is the chart's writer by the file's ending, nil without a file.
func (o *historyOptions) kind() (func(io.Writer, []*report.Report, report.Units) error, error) {
	switch strings.ToLower(filepath.Ext(o.output)) {
	case ".svg":
		return history.WriteSVG, nil
	case ".png":
		return history.WritePNG, nil
	}
	if o.output == "" {
		return nil, nil
	}
	return nil, terminal.Usagef("burngauge history FOLDER -o drift.svg", "%q does not say what kind of chart it is: end it in .svg or .png", o.output)
}
