package report

import (
	"fmt"
	"strings"

	"burngauge.dev/burngauge/pkg/disk"
)

// ReadError says that a file is not a report, or a list of measurements, that
// this program reads. Commands end with the exit code of a wrong report when
// they see it.
type ReadError struct {
	File string // its name, or what it should have been when it has none
	Text string // what is wrong and what to do, lower case, one line
	Err  error  // the cause, which Text says already; may be nil
}

// Error is the file and the text.
func (e *ReadError) Error() string { return OneLine(e.File + ": " + e.Text) }

// Unwrap is the cause.
func (e *ReadError) Unwrap() error { return e.Err }

// WriteError says that a report could not be put where it was wanted: the
// folder is missing, the disk is full. A report that is itself wrong gives
// another error.
type WriteError struct {
	File string
	Err  error
}

// Error names the file that was wanted, not the draft beside it.
func (e *WriteError) Error() string { return fmt.Sprintf("writing %s: %v", e.File, disk.Cause(e.Err)) }

// Unwrap is the cause.
func (e *WriteError) Unwrap() error { return e.Err }

// format is a kind of file that this package reads.
type format struct {
	schema string // its name and number
	what   string // the kind of file, where there is no file name
	maker  string // the command that writes it
	again  string // what gives a good one
}

var (
	reports = format{SchemaReport, "report", "burngauge survey -o", "survey the photos again"}
	lists   = format{SchemaMeasurements, "measurements", "burngauge measure --json", "measure again"}
)

// check wants the format's name and major number; "/1.2" is read as "/1".
func (f format) check(schema string) error {
	name, version, _ := strings.Cut(schema, "/")
	major, _, _ := strings.Cut(version, ".")
	wantName, wantMajor, _ := strings.Cut(f.schema, "/")
	switch {
	case name != wantName:
		return f.fault(nil, "the schema is %q, not %q: give a file from %s", schema, f.schema, f.maker)
	case major != wantMajor:
		return f.fault(nil, "the schema is %q and this program reads %q: use the program that wrote it, or %s", schema, f.schema, f.again)
	}
	return nil
}

// fault makes a ReadError of a text with its next step, and the cause.
func (f format) fault(cause error, text string, args ...any) error {
	return &ReadError{File: f.what, Text: fmt.Sprintf(text, args...), Err: cause}
}

// broken is for text that is not JSON, or not the JSON of one file.
func (f format) broken(cause error) error {
	return f.fault(cause, "not the JSON that %s writes (%v): give such a file", f.maker, cause)
}

// misfit is for JSON that says something a file of this format cannot.
func (f format) misfit(cause error) error {
	return f.fault(cause, "does not fit the format %s: %v: mend it or %s", f.schema, cause, f.again)
}
