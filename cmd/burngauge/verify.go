package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/measure"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/survey"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

const verifyLong = `Compare a report with its photos: the digest, every photo's hash, a fresh
measurement of every photo, the choice of photos, where beam and pointer part ways,
and the verdict. What differs is named, and the exit code is 4. Photos that are not
there are named too; when nothing else is wrong the exit code is 3.

An offset, an uncertainty, a verdict or a station's name that was edited in the file is
found, also when the digest was made anew. What no photo shows is only covered by the
digest: the job's details, the date, the reasons. A limit, a target or a list of
stations that was edited is found too, unless everything that follows from it was
edited with it: that is the report of another choice, so the last line names them.

The digest (SHA-256 over the canonical JSON of RFC 8785) is an integrity check. It is
not a signature and not a seal: anyone can make it anew, and nothing here shows who
made a report or who took a photo.

A photo that the folder holds and the report does not name is a difference, since
leaving out a bad corner is one; --allow-more passes over them in a folder that holds
other photos as well. Stations that were given to survey by --assign are given here
the same way. A report of another version of the program, or of another OpenCV, is
compared with the tolerance of its own stated radius, and that is said.`

// verifyOptions are what the command line of `burngauge verify` says.
type verifyOptions struct {
	streams   terminal.Streams
	path      string
	photos    string // folder; "": the report's
	assign    []string
	allowMore bool
}

// newVerifyCmd is `burngauge verify`.
func newVerifyCmd(streams terminal.Streams) *cobra.Command {
	o := &verifyOptions{streams: streams}
	cmd := &cobra.Command{
		Use:   "verify REPORT",
		Short: "Compare a report with its photos",
		Long:  verifyLong,
		Example: `  The photos lie beside the report:
    burngauge verify photos/2026-09-02/report.json

  They lie elsewhere, among others:
    burngauge verify report.json --photos archive --allow-more`,
		ValidArgsFunction: fileEndings("json"),
		RunE: func(cmd *cobra.Command, args []string) error {
			path, err := oneReport(args, "burngauge verify report.json")
			if err != nil {
				return err
			}
			o.path = path
			return runVerify(cmd.Context(), o)
		},
	}
	flags := cmd.Flags()
	flags.Var(command.Name{To: &o.photos, Kind: "DIR"}, "photos", "the photos lie in the folder DIR (default: the report's folder)")
	flags.StringArrayVar(&o.assign, "assign", nil, "the photo's station as it was given to survey, as `STATION=PHOTO`")
	flags.BoolVar(&o.allowMore, "allow-more", false, "the folder may hold photos that the report does not name")
	folderFlag(cmd, "photos")
	command.Complete(cmd, "assign", cobra.FixedCompletions(nil, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

// runVerify reads the report, measures its photos and prints what differs.
func runVerify(ctx context.Context, o *verifyOptions) error {
	r, err := readReport(o.path)
	if err != nil {
		return err
	}
	evidence, err := o.gather(ctx, r)
	if err != nil {
		return err
	}
	differences, notes := survey.Verify(r, evidence)
	for _, note := range notes {
		o.streams.Note("%s", note)
	}
	if err := writeVerified(o.streams.Out, r, evidence, differences); err != nil {
		return command.Written(err)
	}
	switch {
	case len(differences) > 0:
		return terminal.Fail(terminal.ExitDifference, fmt.Errorf("%s between %s and its photos", count(len(differences), "difference", "differences"), o.path), hintAbout(differences, evidence.More, o.path))
	case len(evidence.Missing) > 0:
		return terminal.Fail(terminal.ExitNotMeasured,
			fmt.Errorf("%d of %s not there", len(evidence.Missing), count(len(survey.Named(r)), "photo is", "photos are")), "burngauge verify --photos FOLDER "+o.path)
	}
	return nil
}

// hintAbout is for the folder that holds other photos too, when nothing else is
// wrong.
func hintAbout(differences []survey.Difference, more []string, path string) string {
	if len(differences) == len(more) {
		return "when the folder holds other photos too: burngauge verify --allow-more " + path
	}
	return ""
}

// gather brings together what the report is compared with.
func (o *verifyOptions) gather(ctx context.Context, r *report.Report) (survey.Evidence, error) {
	folder, err := photosFolder(o.photos, o.path)
	if err != nil {
		return survey.Evidence{}, err
	}
	assigned, err := o.assigned(r)
	if err != nil {
		return survey.Evidence{}, err
	}
	there, missing, more, err := sortPhotos(r, folder)
	if err != nil {
		return survey.Evidence{}, err
	}
	if o.allowMore {
		more = nil
	}
	same := r.Tool == tool()
	if !same {
		o.streams.Note("the report is of %s %s with OpenCV %s, this is %s with OpenCV %s: compared with the tolerance of the stated radius",
			r.Tool.Name, r.Tool.Version, r.Tool.OpenCV, version, tool().OpenCV)
	}
	shots, err := remeasure(ctx, o.streams, folder, there, settingsOf(r))
	return survey.Evidence{Shots: shots, Missing: missing, More: more, Assigned: assigned, SameTool: same, Rule: measure.Rule}, err
}

// assigned reads --assign for the stations of the report.
func (o *verifyOptions) assigned(r *report.Report) (map[string]string, error) {
	stations, err := survey.NewStations(r.Expected...)
	if err != nil {
		return nil, nil // Verify reports it
	}
	return assignments(o.assign, stations, survey.Named(r))
}

// writeVerified writes what differs and what is missing, or what was found right.
func writeVerified(w io.Writer, r *report.Report, e survey.Evidence, differences []survey.Difference) error {
	for _, d := range differences {
		if _, err := fmt.Fprintln(w, report.OneLine(d.String())); err != nil {
			return err
		}
	}
	for _, file := range e.Missing {
		if _, err := fmt.Fprintln(w, report.OneLine(file)+": missing, so neither its hash nor its measurement was checked"); err != nil {
			return err
		}
	}
	if len(differences) > 0 {
		return nil
	}
	marks := 0
	for _, s := range r.Stations {
		for _, m := range survey.Marks(s) {
			if !slices.Contains(e.Missing, m.Photo.File) {
				marks++
			}
		}
	}
	_, err := fmt.Fprintf(w, "as the report says: digest, %s, %s, %s, verdict %s\nby the limit of %s, the target %s and the stations %s\n",
		count(len(e.Shots), "photo's hash", "photos' hashes"), count(marks, "measurement", "measurements"),
		count(len(r.Stations), "station", "stations"), r.Verdict.State,
		report.Millimetres.Length(r.LimitMM), report.OneLine(r.Target.Name), report.OneLine(strings.Join(r.Expected, ", ")))
	return err
}
