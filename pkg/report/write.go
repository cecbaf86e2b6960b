package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"burngauge.dev/burngauge/pkg/disk"
)

// Encode is the report as the indented JSON of a file, with its integrity made
// anew in r.Integrity and in the file, and with the unknown keys it was read
// with. An empty Schema is set to SchemaReport. It fails, and says where, when
// a number is not finite or the report does not fit its JSON Schema.
func (r *Report) Encode() ([]byte, error) {
	if r.Schema == "" {
		r.Schema = SchemaReport
	}
	checked := *r // so that a failure leaves r's integrity as it was
	data, err := checked.encode()
	if err != nil {
		return nil, fmt.Errorf("encoding the report: %w", err)
	}
	r.Integrity = checked.Integrity
	return data, nil
}

// encode is Encode, with r.Integrity set whatever comes of it.
func (r *Report) encode() ([]byte, error) {
	if err := r.finite(); err != nil {
		return nil, err
	}
	if err := r.check(); err != nil {
		return nil, err
	}
	r.Integrity = &Integrity{Algorithm: DigestAlgorithm}
	doc, err := r.document()
	if err != nil {
		return nil, err
	}
	text, err := canonical(doc.without(integrityKey))
	if err != nil {
		return nil, err
	}
	r.Integrity.Digest = digestOf(text)
	doc.get(integrityKey).(*object).set("digest", r.Integrity.Digest)
	var compact, out bytes.Buffer
	if err := doc.write(&compact); err != nil {
		return nil, err
	}
	if err := checkWritten(schemas().report, compact.Bytes()); err != nil {
		return nil, err
	}
	if err := json.Indent(&out, compact.Bytes(), "", "  "); err != nil {
		return nil, err
	}
	out.WriteByte('\n')
	return out.Bytes(), nil
}

// WriteFile writes what Encode gives at the path, whole or not at all: when the
// disk is full or the program is killed, an older file stays as it is. (A kill
// may leave a hidden draft beside it.) A path that is no ordinary file, such as
// /dev/stdout, is written to directly. Failures of the disk are *WriteError.
func (r *Report) WriteFile(path string) error {
	data, err := r.Encode()
	if err != nil {
		return err
	}
	err = disk.Write(path, func(w io.Writer) error { _, err := w.Write(data); return err })
	if err != nil {
		return &WriteError{File: path, Err: err}
	}
	return nil
}

// MarshalJSON writes lists that are nil as [], as everywhere in this package.
// It is for reports inside other documents: it leaves out unknown keys and
// makes no digest, which Encode does.
func (r Report) MarshalJSON() ([]byte, error) {
	type plain Report // without this method
	r.Expected, r.Stations, r.Unassigned = listed(r.Expected), listed(r.Stations), listed(r.Unassigned)
	r.Target.RingsMM = listed(r.Target.RingsMM)
	return marshal(plain(r))
}

// MarshalJSON writes lists that are nil as [].
func (s Station) MarshalJSON() ([]byte, error) {
	type plain Station
	s.Photos, s.Others = listed(s.Photos), listed(s.Others)
	return marshal(plain(s))
}

// listed is the list, never nil.
func listed[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// marshal is json.Marshal with < and & as they are.
func marshal(value any) ([]byte, error) {
	var b bytes.Buffer
	err := encoder(&b, "").Encode(value)
	return b.Bytes(), err
}

// document is the report as JSON, laid over the one it was read from.
func (r *Report) document() (*object, error) {
	data, err := r.MarshalJSON()
	if err != nil {
		return nil, err
	}
	tree, err := parseTree(data)
	if err != nil {
		return nil, err
	}
	doc := keep(r.kept, r.asRead(tree.(*object)))
	if r.Integrity == nil {
		doc = doc.without(integrityKey)
	}
	return doc, nil
}

// finite finds the number that JSON cannot hold, to name its place.
func (r *Report) finite() error {
	for _, s := range r.Stations {
		for _, m := range append([]*Measurement{s.Burn, s.Pointer}, pointers(s.Others)...) {
			if m == nil {
				continue
			}
			if err := encodable(*m); err != nil {
				return fmt.Errorf("station %q: %w", s.Station, err)
			}
		}
		if _, err := marshal(s.BeamFromPointer); err != nil {
			return fmt.Errorf("station %q, beam from pointer: %w", s.Station, err)
		}
	}
	return nil // limit and target name themselves in check
}

func pointers(list []Measurement) []*Measurement {
	out := make([]*Measurement, len(list))
	for i := range list {
		out[i] = &list[i]
	}
	return out
}

// check is what the JSON Schema cannot say.
func (r *Report) check() error {
	if err := r.Target.Check(); err != nil {
		return err
	}
	seen := map[string]bool{}
	for _, s := range r.Stations {
		if seen[s.Station] {
			return fmt.Errorf("the station %q stands in it twice", s.Station)
		}
		seen[s.Station] = true
	}
	return nil
}

// checkWritten holds our own text against the schema.
func checkWritten(schema *jsonschema.Schema, text []byte) error {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		return err
	}
	return validate(schema, doc)
}
