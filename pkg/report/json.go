package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
)

// SchemaMeasurements names the format of a list of measurements. The number
// rises when a reader of the old format would misread the new one; new keys
// alone do not raise it.
const SchemaMeasurements = "burngauge.measurements/1"

// Status values of a measurement.
const (
	Measured   = "measured"
	Refused    = "refused"
	Unreadable = "unreadable"
)

// measurements is the file that WriteJSON writes.
type measurements struct {
	Schema       string        `json:"schema"`
	Measurements []Measurement `json:"measurements"`
}

// ReadError says that a file is not a list of measurements that this program
// reads. Commands end with the exit code of a wrong report when they see it.
type ReadError struct {
	Text string // what is wrong and what to do, lower case, one line
	Err  error  // the cause, may be nil
}

// Error is the text, with the cause when there is one.
func (e *ReadError) Error() string {
	if e.Err == nil {
		return "measurements: " + e.Text
	}
	return fmt.Sprintf("measurements: %s: %v", e.Text, e.Err)
}

// Unwrap is the cause.
func (e *ReadError) Unwrap() error { return e.Err }

// MarshalJSON writes lists that are nil as [], which a reader can count on
// wherever a measurement stands.
func (m Measurement) MarshalJSON() ([]byte, error) {
	type plain Measurement // without this method
	if m.Warnings == nil {
		m.Warnings = []Warning{}
	}
	if m.Uncertainty != nil && m.Uncertainty.Budget == nil {
		whole := *m.Uncertainty
		whole.Budget = []Component{}
		m.Uncertainty = &whole
	}
	if m.View != nil && m.View.RingsSeen == nil {
		whole := *m.View
		whole.RingsSeen = []RingSeen{}
		m.View = &whole
	}
	var b bytes.Buffer
	if err := encoder(&b, "").Encode(plain(m)); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// WriteJSON writes the whole list, indented, with its schema. A number that is
// not finite has no place in JSON: nothing is written and the error names the
// measurement.
func WriteJSON(w io.Writer, list []Measurement) error {
	if err := encodable(list...); err != nil {
		return err
	}
	if list == nil {
		list = []Measurement{}
	}
	return write(w, measurements{SchemaMeasurements, list}, "  ")
}

// WriteNDJSON writes one measurement on one line, without a schema. Numbers as
// for WriteJSON.
func WriteNDJSON(w io.Writer, m Measurement) error {
	if err := encodable(m); err != nil {
		return err
	}
	return write(w, m, "")
}

// encodable finds the measurement that JSON cannot hold.
func encodable(list ...Measurement) error {
	for _, m := range list {
		if _, err := m.MarshalJSON(); err != nil {
			return fmt.Errorf("writing the %s of %q: %w", m.Mark, m.Photo.File, err)
		}
	}
	return nil
}

// encoder keeps < and & as they are: the text is for people too.
func encoder(w io.Writer, indent string) *json.Encoder {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", indent)
	return e
}

// write encodes first, so that a failure leaves no half of a file.
func write(w io.Writer, value any, indent string) error {
	var b bytes.Buffer
	if err := encoder(&b, indent).Encode(value); err != nil {
		return fmt.Errorf("encoding measurements: %w", err)
	}
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("writing measurements: %w", err)
	}
	return nil
}

// ReadMeasurements reads what WriteJSON wrote. The schema's number must be the
// one this program knows; keys it does not know are passed over, as a later
// program may add some. Every error is a *ReadError.
func ReadMeasurements(r io.Reader) ([]Measurement, error) {
	var file measurements
	decoder := json.NewDecoder(r)
	if err := decoder.Decode(&file); err != nil {
		return nil, &ReadError{Text: "not the JSON that burngauge measure --json writes", Err: err}
	}
	if err := checkSchema(file.Schema); err != nil {
		return nil, err
	}
	if _, err := decoder.Token(); !errors.Is(err, io.EOF) {
		return nil, &ReadError{Text: "more follows after the end: give one list of measurements"}
	}
	if file.Measurements == nil {
		return nil, &ReadError{Text: "no list of measurements in it: measure again"}
	}
	for i, m := range file.Measurements {
		if what := m.missing(); what != "" {
			return nil, &ReadError{Text: fmt.Sprintf("measurement %d (%q) is %q but has no %s: measure the photo again", i+1, m.Photo.File, m.Status, what)}
		}
	}
	return file.Measurements, nil
}

// checkSchema wants our name and major number; "/1.2" is read as "/1".
func checkSchema(schema string) error {
	name, version, _ := strings.Cut(schema, "/")
	major, _, _ := strings.Cut(version, ".")
	wantName, wantMajor, _ := strings.Cut(SchemaMeasurements, "/")
	switch {
	case name != wantName:
		return &ReadError{Text: fmt.Sprintf("the schema is %q, not %q: give a file from burngauge measure --json", schema, SchemaMeasurements)}
	case major != wantMajor:
		return &ReadError{Text: fmt.Sprintf("the schema is %q and this program reads %q: use the program that wrote it, or measure again", schema, SchemaMeasurements)}
	}
	return nil
}

// missing names the part that a measurement of this status must have and has
// not, "" when it is whole.
func (m Measurement) missing() string {
	switch m.Status {
	case Measured:
		switch {
		case m.Offset == nil:
			return "offset"
		case m.Uncertainty == nil:
			return "uncertainty"
		case m.Verdict == nil:
			return "verdict"
		}
	case Refused, Unreadable:
		if m.Refusal == nil {
			return "refusal"
		}
	default:
		return "status that this program knows"
	}
	return ""
}
