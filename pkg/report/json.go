package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
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

// MarshalJSON writes lists that are nil as [], which a reader can count on
// wherever a measurement stands.
func (m Measurement) MarshalJSON() ([]byte, error) {
	type plain Measurement // without this method
	m.Warnings = listed(m.Warnings)
	if m.Uncertainty != nil {
		whole := *m.Uncertainty
		whole.Budget = listed(whole.Budget)
		m.Uncertainty = &whole
	}
	if m.View != nil {
		whole := *m.View
		whole.RingsSeen = listed(whole.RingsSeen)
		m.View = &whole
	}
	return marshal(plain(m))
}

// WriteJSON writes the whole list, indented, with its schema. A number that is
// not finite has no place in JSON: nothing is written and the error names the
// measurement. Nor is anything written that does not fit the JSON Schema.
func WriteJSON(w io.Writer, list []Measurement) error {
	if err := encodable(list...); err != nil {
		return err
	}
	if list == nil {
		list = []Measurement{}
	}
	var b bytes.Buffer
	if err := encoder(&b, "  ").Encode(measurements{SchemaMeasurements, list}); err != nil {
		return fmt.Errorf("encoding measurements: %w", err)
	}
	if err := checkWritten(schemas().measurements, b.Bytes()); err != nil {
		return fmt.Errorf("encoding measurements: %w", err)
	}
	return send(w, b.Bytes())
}

// WriteNDJSON writes one measurement on one line, without a schema. Numbers as
// for WriteJSON.
func WriteNDJSON(w io.Writer, m Measurement) error {
	if err := encodable(m); err != nil {
		return err
	}
	line, err := marshal(m)
	if err != nil {
		return fmt.Errorf("encoding measurements: %w", err)
	}
	return send(w, line)
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

// send writes what was encoded first, so that a failure leaves no half of it.
func send(w io.Writer, data []byte) error {
	if _, err := w.Write(data); err != nil {
		return fmt.Errorf("writing measurements: %w", err)
	}
	return nil
}

// ReadMeasurements reads what WriteJSON wrote. The schema's major number must
// be the one this program knows, and the file must fit the JSON Schema; keys it
// does not know are passed over, as a later program may add some. Every error
// is a *ReadError, but those of the reader itself.
func ReadMeasurements(r io.Reader) ([]Measurement, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	var file measurements
	if err := lists.decode(data, schemas().measurements, &file); err != nil {
		return nil, err
	}
	return file.Measurements, nil
}
