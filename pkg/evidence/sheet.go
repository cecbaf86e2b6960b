package evidence

import (
	"fmt"
	"strings"
	"time"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/report"
)

// Sheet is what one sheet of evidence is made of. Only Report is required.
type Sheet struct {
	Report   *report.Report
	Before   *report.Report // an earlier round of the same machine, nil: none
	Pictures []Picture      // in the order they are shown
	Units    report.Units   // of the lengths; millimetres when empty
	Paper    string         // one of drawing.Papers, "" is A4; HTML takes the printer's
	Made     time.Time      // stands in the sheet, and is the PDF's date; zero: neither, and the PDF has the report's
	Program  string         // name and version of what made the sheet
}

// Picture is one overlay: the photo of a mark with what was measured drawn in.
type Picture struct {
	Data    []byte // a JPEG or PNG file
	Station string
	File    string // the photo's name, not the overlay's
	Mark    string // burn or pointer
	Taken   string // as report.Photo.Taken
	SHA256  string // of the photo's bytes
	Alt     string // what is seen, for those who do not see it; "" makes one from the measurement
}

// InputError says that a sheet cannot be made from what was given.
// Commands end with the exit code of a wrong report when they see it.
type InputError struct {
	Text string // what is wrong and what to do, lower case, one line
	Err  error  // the cause, may be nil
}

// Error is the text, with the cause when there is one.
func (e *InputError) Error() string {
	if e.Err == nil {
		return e.Text
	}
	return fmt.Sprintf("%s: %v", e.Text, e.Err)
}

// Unwrap is the cause.
func (e *InputError) Unwrap() error { return e.Err }

// check refuses what cannot be drawn. A report that was read from a file has
// been checked more closely than this.
func (s Sheet) check() error {
	if s.Report == nil {
		return &InputError{Text: "no report given: make one with burngauge survey"}
	}
	if err := s.Report.Target.Check(); err != nil {
		return &InputError{Text: "the report's target cannot be drawn", Err: err}
	}
	if _, ok := drawing.Paper(s.Paper); !ok && s.Paper != "" {
		return &InputError{Text: fmt.Sprintf("no paper called %q: choose %s", s.Paper, strings.Join(drawing.Papers(), " or "))}
	}
	for _, p := range s.Pictures {
		if err := p.check(); err != nil {
			return err
		}
	}
	return nil
}

// check refuses a picture that neither HTML nor PDF could show.
func (p Picture) check() error {
	if _, err := drawing.NewPhoto(p.Data); err != nil {
		return &InputError{Text: fmt.Sprintf("the overlay of %q is not a JPEG or PNG that can be shown: draw it again", p.File), Err: err}
	}
	return nil
}
