package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/target"
	"burngauge.dev/burngauge/pkg/target/sheet"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// targetOptions are what the command line of `burngauge target` says.
type targetOptions struct {
	streams terminal.Streams

	target string // built-in name or spec file
	output string // "": print the spec
	paper  string
	list   bool
}

// newTargetCmd is `burngauge target`.
func newTargetCmd(streams terminal.Streams) *cobra.Command {
	o := &targetOptions{streams: streams}
	cmd := &cobra.Command{
		Use:   "target [NAME|FILE]",
		Short: "Print targets at true size, or show a target's spec",
		Long: `Make a sheet of targets to print, or show the spec of one.

Print the sheet at 100 %, not "fit to page", and hold a rule against its scale bar
before using it. Without -o the spec is shown as YAML: save it, change it to the
target that you have, and give the file to --target.`,
		Example: `  A sheet of the default target, plain-4:
    burngauge target -o sheet.pdf

  Another target on letter paper, as SVG:
    burngauge target wide-3 --paper letter -o sheet.svg

  A spec of your own, checked with a steel rule:
    burngauge target plain-4 > mine.yaml
    burngauge measure --target mine.yaml rear-left.jpg`,
		ValidArgsFunction: completeTarget,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return terminal.Usagef("burngauge target --help", "one target at a time, %d were given", len(args))
			}
			if o.list && (len(args) > 0 || o.output != "") {
				return terminal.Usagef("burngauge target --list", "--list takes neither a target nor --output")
			}
			o.target = target.DefaultName
			if len(args) == 1 {
				o.target = args[0]
			}
			return runTarget(o)
		},
	}
	flags := cmd.Flags()
	flags.VarP(command.Name{To: &o.output, Kind: "FILE"}, "output", "o", "write a sheet to FILE, which ends in .pdf or .svg")
	command.ChoiceFlag(cmd, &o.paper, "paper", "paper of the sheet", drawing.Papers()...)
	flags.BoolVar(&o.list, "list", false, "list the built-in targets")
	command.Complete(cmd, "output", cobra.FixedCompletions([]string{"pdf", "svg"}, cobra.ShellCompDirectiveFilterFileExt))
	return cmd
}

// completeTarget offers the built-in targets for the one argument, else files.
func completeTarget(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return target.Names(), cobra.ShellCompDirectiveDefault
}

// runTarget writes the sheet, the spec or the list.
func runTarget(o *targetOptions) error {
	if o.list {
		return command.Written(listTargets(o.streams.Out))
	}
	spec, err := loadTarget(o.target)
	if err != nil {
		return err
	}
	if o.output == "" {
		return command.Written(writeSpec(o.streams.Out, spec))
	}
	page, err := drawSheet(o, spec)
	if err != nil {
		return err
	}
	err = terminal.WriteFile(o.output, func(w io.Writer) error { _, err := w.Write(page); return err })
	if err != nil {
		return err
	}
	o.streams.Note("%s written: print it at 100 %%, then hold a rule against its scale bar", o.output)
	return nil
}

// drawSheet draws the sheet in memory, as the kind that the file's name ends in.
func drawSheet(o *targetOptions, spec target.Spec) ([]byte, error) {
	var draw func(io.Writer, target.Spec, sheet.Options) error
	switch strings.ToLower(filepath.Ext(o.output)) {
	case ".pdf":
		draw = sheet.PDF
	case ".svg":
		draw = sheet.SVG
	default:
		return nil, terminal.Usagef("burngauge target -o sheet.pdf", "%q does not say what kind of sheet it is: end it in .pdf or .svg", o.output)
	}
	options := sheet.DefaultOptions()
	options.Paper = o.paper
	var page bytes.Buffer
	err := draw(&page, spec, options)
	var option *sheet.OptionError
	if errors.As(err, &option) {
		return nil, terminal.Fail(terminal.ExitUsage, err, "burngauge target --help")
	}
	return page.Bytes(), err
}

// listTargets prints a line for each built-in target.
func listTargets(w io.Writer) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "name\trings mm\tline mm\tround edge mm")
	for _, name := range target.Names() {
		spec, _ := target.Builtin(name)
		rim := "-"
		if spec.RimMM > 0 {
			rim = number(spec.RimMM)
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", name, numbers(spec.RingsMM), number(spec.LineMM), rim)
	}
	return t.Flush()
}

// number writes a length with the digits that it has.
func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// numbers writes "4, 8, 12".
func numbers(values []float64) string {
	texts := make([]string, len(values))
	for i, v := range values {
		texts[i] = number(v)
	}
	return strings.Join(texts, ", ")
}
