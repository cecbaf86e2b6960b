package main

import (
	"strings"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/survey"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// surveyOptions are what the command line of `burngauge survey` says.
type surveyOptions struct {
	streams terminal.Streams
	given   func(flag string) bool // whether the flag stands on the command line

	folder string
	measuring
	job      report.Job
	stations []string // none: the job file's, or the usual five
	assign   []string // STATION=PHOTO
	round    survey.Round
	output   string // of the report; "": none, "-": standard output instead of the table
	csv      string // "": none
	ndjson   bool
	watch    bool
	workers  int // 0: one for each core
}

// newSurveyCmd is `burngauge survey`.
func newSurveyCmd(streams terminal.Streams) *cobra.Command {
	o := &surveyOptions{streams: streams}
	cmd := &cobra.Command{
		Use:               "survey FOLDER",
		Short:             "Measure one round of photos, a station each, and make its report",
		Long:              surveyLong,
		Example:           surveyExample,
		ValidArgsFunction: oneFolder,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.given = cmd.Flags().Changed
			if err := o.takeFolder(args); err != nil {
				return err
			}
			job, err := o.prepare()
			if err != nil {
				return err
			}
			if o.watch {
				return runWatch(cmd.Context(), job)
			}
			return runSurvey(cmd.Context(), job)
		},
	}
	addMeasuringFlags(cmd, &o.measuring)
	addSurveyFlags(cmd, o)
	addJobFlags(cmd, &o.job)
	return cmd
}

func addSurveyFlags(cmd *cobra.Command, o *surveyOptions) {
	flags := cmd.Flags()
	flags.VarP(command.Name{To: &o.output, Kind: "FILE"}, "output", "o", "write the report as JSON to FILE; - is standard output, instead of the table")
	flags.Var(command.Name{To: &o.csv, Kind: "FILE"}, "csv", "write the report as CSV to FILE")
	flags.StringSliceVar(&o.stations, "stations", nil, "stations that make the set complete, as `a,b,c` (default "+strings.Join(survey.Default(), ",")+")")
	flags.StringArrayVar(&o.assign, "assign", nil, "the photo's station, whatever its name says, as `STATION=PHOTO`; may be given several times")
	flags.Var(&o.round, "round", "of several rounds in one folder, the one to report")
	flags.BoolVar(&o.ndjson, "ndjson", false, ndjsonUsage+", with its station, instead of the table")
	flags.BoolVar(&o.watch, "watch", false, "wait for photos to land in the folder and measure each; Ctrl-C ends")
	flags.Var(whole{to: &o.workers}, "workers", "photos to measure at the same time, one on a core (default: one for each core)")
	command.Complete(cmd, "output", cobra.FixedCompletions([]string{"json"}, cobra.ShellCompDirectiveFilterFileExt))
	command.Complete(cmd, "csv", cobra.FixedCompletions([]string{"csv"}, cobra.ShellCompDirectiveFilterFileExt))
	command.Complete(cmd, "stations", cobra.FixedCompletions(survey.Default(), cobra.ShellCompDirectiveNoFileComp|cobra.ShellCompDirectiveNoSpace))
	command.Complete(cmd, "round", cobra.FixedCompletions([]string{"latest", "all", "1", "2", "3"}, cobra.ShellCompDirectiveNoFileComp))
	command.Complete(cmd, "workers", cobra.FixedCompletions(nil, cobra.ShellCompDirectiveNoFileComp))
	command.Complete(cmd, "assign", completeAssign)
}

func addJobFlags(cmd *cobra.Command, job *report.Job) {
	flags := cmd.Flags()
	for _, f := range jobFields(job) {
		flags.StringVar(f.to, f.name, "", f.usage)
		command.Complete(cmd, f.name, cobra.FixedCompletions(nil, cobra.ShellCompDirectiveNoFileComp))
	}
}

// jobField is one text of the job with its flag.
type jobField struct {
	to          *string
	name, usage string
}

func jobFields(job *report.Job) []jobField {
	return []jobField{
		{&job.Reference, "reference", "the work order's or service report's number, for the report"},
		{&job.Machine, "machine", "the machine and its serial number, for the report"},
		{&job.Technician, "technician", "who did the work, for the report"},
		{&job.Site, "site", "where the machine stands, for the report"},
		{&job.Notes, "notes", "anything else, for the report"},
	}
}

// completeAssign offers the stations, then the photos of the folder.
func completeAssign(_ *cobra.Command, args []string, begun string) ([]cobra.Completion, cobra.ShellCompDirective) {
	station, _, named := strings.Cut(begun, "=")
	var out []cobra.Completion
	if !named {
		for _, name := range survey.Default() {
			out = append(out, name+"=")
		}
		return out, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	}
	if len(args) > 0 {
		photos, _ := survey.Photos(args[0])
		for _, name := range photos {
			out = append(out, station+"="+name)
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}
