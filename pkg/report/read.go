package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"github.com/gowebpki/jcs"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"burngauge.dev/burngauge/pkg/disk"
)

// Read reads a report. The major number of its schema must be the one that
// this program knows, and it must fit the JSON Schema. Keys that this program
// does not know are kept for the next write. The digest is not looked at: see
// DigestOK.
//
// Every error is a *ReadError, but those of the reader itself.
func Read(r io.Reader) (*Report, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	out := new(Report)
	if err := reports.decode(data, schemas().report, out); err != nil {
		return nil, err
	}
	if err := out.check(); err != nil {
		return nil, reports.misfit(err)
	}
	tree, err := parseTree(data)
	if err != nil { // decode has read it already
		return nil, reports.broken(err)
	}
	out.kept = tree.(*object)
	if out.formerTape() {
		out.Target.TapeUMM = formerTapeU(out.Target)
	}
	return out, nil
}

// ReadFile reads the report at the path. Every error is a *ReadError that names
// the file.
func ReadFile(path string) (*Report, error) {
	file, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, &ReadError{File: path, Text: "there is no such file: check the name"}
	}
	if err != nil {
		return nil, &ReadError{File: path, Text: fmt.Sprintf("cannot be opened (%v): check that it may be read", disk.Cause(err)), Err: err}
	}
	defer file.Close()
	out, err := Read(file)
	var wrong *ReadError
	switch {
	case errors.As(err, &wrong):
		wrong.File = path
		return nil, wrong
	case err != nil:
		return nil, &ReadError{File: path, Text: fmt.Sprintf("cannot be read (%v): check that it is a file", disk.Cause(err)), Err: err}
	}
	return out, nil
}

// decode checks the text and fills out. The value is filled from the canonical
// form, in which 1e3 is 1000: every number is a float64 as RFC 8785 has it.
func (f format) decode(data []byte, schema *jsonschema.Schema, out any) error {
	doc, err := f.parse(data)
	if err != nil {
		return err
	}
	name, _ := doc["schema"].(string)
	if err := f.check(name); err != nil {
		return err
	}
	if err := validate(schema, doc); err != nil {
		return f.misfit(err)
	}
	known, err := json.Marshal(onlyKnown(doc))
	if err == nil {
		err = json.Unmarshal(known, out)
	}
	if err != nil {
		return f.misfit(err)
	}
	return nil
}

// parse wants one JSON object without doubled keys, broken characters and
// numbers beyond a float64 (RFC 7493, which RFC 8785 rests on).
func (f format) parse(data []byte) (map[string]any, error) {
	var raw json.RawMessage
	decoder := json.NewDecoder(bytes.NewReader(data))
	if err := decoder.Decode(&raw); err != nil {
		return nil, f.broken(err)
	}
	if _, err := decoder.Token(); !errors.Is(err, io.EOF) {
		return nil, f.fault(nil, "more follows after the end: give one such file")
	}
	plain, err := jcs.Transform(raw)
	if err != nil {
		return nil, f.misfit(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(plain))
	if err != nil {
		return nil, f.broken(err)
	}
	top, ok := doc.(map[string]any)
	if !ok {
		return nil, f.broken(errors.New("it is no object"))
	}
	return top, nil
}
