package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/evidence"
	"burngauge.dev/burngauge/pkg/history"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

const evidenceHint = "burngauge evidence report.json -o sheet.pdf"

// evidenceOptions are what the command line of `burngauge evidence` says.
type evidenceOptions struct {
	streams terminal.Streams
	path    string
	before  string // an earlier report, "": none
	photos  string // folder, "": the report's
	paper   string
	units   string
	output  string
}

// newEvidenceCmd is `burngauge evidence`.
func newEvidenceCmd(streams terminal.Streams) *cobra.Command {
	o := &evidenceOptions{streams: streams}
	cmd := &cobra.Command{
		Use:   "evidence REPORT -o FILE",
		Short: "Make a sheet of a report, for the customer and the file",
		Long: `Make a sheet of a report: the job and the verdict, a map of the bed with each
station's target, the table with its uncertainty, pictures of the photos with what
was measured drawn in, the decision rule and the cautions. FILE ends in .pdf or
.html; an HTML sheet is one file that needs no other. A PDF has Latin, Greek and
Cyrillic letters and shows ? for others, which is said; HTML has them all.

The pictures are drawn by measuring the photos again, so the photos must still be
there, beside the report or in --photos DIR. A photo that is missing, or is not the
one that was measured, or now measures otherwise, has no picture: that is said, and
the exit code is 3. The sheet is made all the same.`,
		Example: `  After the work, to print:
    burngauge evidence photos/after/report.json -o sheet.pdf

  Before and after, side by side, on letter paper in inches:
    burngauge evidence photos/after/report.json --before photos/before/report.json \
      --paper letter --units in -o sheet.pdf

  To send, readable on a phone:
    burngauge evidence photos/after/report.json -o sheet.html`,
		ValidArgsFunction: fileEndings("json"),
		RunE: func(cmd *cobra.Command, args []string) error {
			path, err := oneReport(args, evidenceHint)
			if err != nil {
				return err
			}
			o.path = path
			return runEvidence(cmd.Context(), o)
		},
	}
	flags := cmd.Flags()
	flags.VarP(command.Name{To: &o.output, Kind: "FILE"}, "output", "o", "write the sheet to FILE, which ends in .pdf or .html")
	flags.Var(command.Name{To: &o.before, Kind: "FILE"}, "before", "show the earlier report FILE beside it")
	flags.Var(command.Name{To: &o.photos, Kind: "DIR"}, "photos", "the photos lie in the folder DIR (default: the report's folder)")
	command.ChoiceFlag(cmd, &o.paper, "paper", "paper of a PDF", drawing.Papers()...)
	addUnitsFlag(cmd, &o.units, "unit of the lengths")
	command.Complete(cmd, "output", cobra.FixedCompletions([]string{"pdf", "html"}, cobra.ShellCompDirectiveFilterFileExt))
	command.Complete(cmd, "before", cobra.FixedCompletions([]string{"json"}, cobra.ShellCompDirectiveFilterFileExt))
	folderFlag(cmd, "photos")
	return cmd
}

// runEvidence draws the pictures and writes the sheet.
func runEvidence(ctx context.Context, o *evidenceOptions) error {
	writeSheet, err := o.kind()
	if err != nil {
		return err
	}
	if err := checkOutput(o.output); err != nil {
		return err
	}
	sheet, err := o.sheet()
	if err != nil {
		return err
	}
	folder, err := photosFolder(o.photos, o.path)
	if err != nil {
		return err
	}
	pictures, lacking, err := drawPictures(ctx, o.streams, sheet, folder)
	if err != nil {
		return err
	}
	sheet.Pictures = pictures
	if err := writeWhole(o.output, func(w io.Writer) error { return writeSheet(sheet, w) }); err != nil {
		return err
	}
	o.streams.Note("%s written", o.output)
	if unshown := sheet.Unshown(); len(unshown) > 0 && isPDF(o.output) {
		o.streams.Note("the PDF shows ? for letters that its fonts lack, in %s; an HTML sheet shows them: -o sheet.html", someOf(unshown))
	}
	if lacking > 0 {
		return terminal.Fail(terminal.ExitNotMeasured,
			fmt.Errorf("%d of %s not in the sheet", lacking, count(lacking+len(pictures), "picture is", "pictures are")), "burngauge evidence --photos FOLDER "+o.path)
	}
	return nil
}

// someOf is the beginning of a list in words, with the number of the rest.
func someOf(list []string) string {
	if more := len(list) - mostNamed; more > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(list[:mostNamed], ", "), more)
	}
	return strings.Join(list, ", ")
}

func isPDF(path string) bool { return strings.EqualFold(filepath.Ext(path), ".pdf") }

// kind is the writer for the sheet's ending.
func (o *evidenceOptions) kind() (func(evidence.Sheet, io.Writer) error, error) {
	switch strings.ToLower(filepath.Ext(o.output)) {
	case ".pdf":
		return evidence.Sheet.WritePDF, nil
	case ".html", ".htm":
		return evidence.Sheet.WriteHTML, nil
	}
	if o.output == "" {
		return nil, terminal.Usagef(evidenceHint, "no file to write the sheet to")
	}
	return nil, terminal.Usagef(evidenceHint, "%q does not say what kind of sheet it is: end it in .pdf or .html", o.output)
}

// sheet reads the reports.
func (o *evidenceOptions) sheet() (evidence.Sheet, error) {
	r, err := o.read(o.path)
	if err != nil {
		return evidence.Sheet{}, err
	}
	sheet := evidence.Sheet{Report: r, Units: report.Units(o.units), Paper: o.paper, Made: now(), Program: "burngauge " + version}
	if o.before != "" {
		if sheet.Before, err = o.read(o.before); err == nil {
			o.doubtBefore(sheet)
		}
	}
	return sheet, err
}

// doubtBefore says what speaks against comparing the two reports. The sheet is
// made all the same: only who was there knows.
func (o *evidenceOptions) doubtBefore(s evidence.Sheet) {
	digest, err := s.Report.Digest()
	earlier, errEarlier := s.Before.Digest()
	if err == nil && errEarlier == nil && digest == earlier {
		o.streams.Note("%s and %s are the same report: give --before the earlier round's", o.path, o.before)
		return
	}
	fired, err := s.Report.Time()
	before, errEarlier := s.Before.Time()
	if err == nil && errEarlier == nil && before.After(fired) {
		o.streams.Note("%s is of a later round than %s: if the two are swapped, the sheet shows after as before", o.before, o.path)
	}
	if a, b := s.Report.Job.Machine, s.Before.Job.Machine; a != "" && b != "" && a != b {
		o.streams.Note("the reports are of two machines, %q and before %q", a, b)
	}
}

// read reads a report and says when its digest does not fit.
func (o *evidenceOptions) read(path string) (*report.Report, error) {
	r, err := readReport(path)
	if err == nil && !r.DigestOK() {
		o.streams.Note(changedText, path, path)
	}
	return r, err
}

// writeWhole makes the file in memory first, so that what cannot be made gives
// its own reason and what cannot be written gives the disk's.
func writeWhole(path string, write func(io.Writer) error) error {
	var b bytes.Buffer
	err := write(&b)
	var ofSheet *evidence.InputError
	var ofChart *history.InputError
	if errors.As(err, &ofSheet) || errors.As(err, &ofChart) {
		return terminal.Fail(terminal.ExitUsage, err, "")
	}
	if err != nil {
		return err
	}
	return terminal.WriteFile(path, func(w io.Writer) error { _, err := w.Write(b.Bytes()); return err })
}
