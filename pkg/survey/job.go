package survey

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/token"

	"burngauge.dev/burngauge/pkg/report"
)

// JobFileName is the file in a surveyed folder that holds the job's details.
const JobFileName = "job.yaml"

// JobFile is what job.yaml may say. What the command line says goes before it.
type JobFile struct {
	report.Job `yaml:",inline"`
	Target     string   `yaml:"target"`   // built-in name, or spec file in the same folder
	LimitMM    float64  `yaml:"limit_mm"` // 0: not given
	Stations   []string `yaml:"stations"` // the expected ones
}

// jobKeys names the keys, for whoever misspelt one.
const jobKeys = "reference, machine, technician, site, notes, target, limit_mm, stations"

// maxJobBytes bounds the file; a full one is under 1 KB.
const maxJobBytes = 64 << 10

// maxJobText bounds one text in letters: notes of two pages.
const maxJobText = 8000

// JobError says what is wrong with a job file.
type JobError struct {
	File string // its path
	Line int    // from 1, 0 when unknown
	Text string // what is wrong and what to do, one line
}

// Error is one line.
func (e *JobError) Error() string {
	if e.Line > 0 {
		return fmt.Sprintf("%s:%d: %s", e.File, e.Line, e.Text)
	}
	return e.File + ": " + e.Text
}

// ReadJob reads the folder's job.yaml. Without one it gives the zero JobFile.
// Every error is a *JobError.
func ReadJob(folder string) (JobFile, error) {
	path := filepath.Join(folder, JobFileName)
	file, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return JobFile{}, nil
	}
	if err != nil {
		return JobFile{}, &JobError{File: path, Text: fmt.Sprintf("cannot be opened (%v): check that it may be read", bare(err))}
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, maxJobBytes+1))
	if err != nil {
		return JobFile{}, &JobError{File: path, Text: fmt.Sprintf("cannot be read (%v): check that it is a file", bare(err))}
	}
	return ParseJob(path, data)
}

// ParseJob reads a job file's text; file is its name for messages. A key that
// it does not know is refused, with those there are.
func ParseJob(file string, data []byte) (JobFile, error) {
	var job JobFile
	if fault := plainJob(data); fault != nil {
		fault.File = file
		return job, fault
	}
	if len(bytes.TrimSpace(data)) == 0 {
		return job, nil
	}
	if err := yaml.UnmarshalWithOptions(data, &job, yaml.Strict()); err != nil && !errors.Is(err, io.EOF) {
		return JobFile{}, jobFault(file, err)
	}
	if text := job.fault(); text != "" {
		return JobFile{}, &JobError{File: file, Text: text}
	}
	return job, nil
}

// plainJob refuses what is no small plain YAML text. Aliases let ten lines grow
// to gigabytes, and brackets make the parser recurse.
func plainJob(data []byte) *JobError {
	switch {
	case len(data) > maxJobBytes:
		return &JobError{Text: fmt.Sprintf("over %d KB: this is no job file", maxJobBytes>>10)}
	case !utf8.Valid(data):
		return &JobError{Text: "not a text in UTF-8: save it as UTF-8"}
	}
	depth := 0
	for i, t := range lexer.Tokenize(string(data)) {
		switch t.Type {
		case token.DocumentHeaderType:
			if i > 0 && t.Position.Line > 1 {
				return &JobError{Line: t.Position.Line, Text: `one job to a file: take out the line "---" and what follows it`}
			}
		case token.AnchorType, token.AliasType, token.MergeKeyType, token.TagType:
			return &JobError{Line: t.Position.Line, Text: fmt.Sprintf("%q: anchors, aliases and tags are not used here: write the text in quotation marks", t.Value)}
		case token.SequenceStartType, token.MappingStartType:
			depth++
		case token.SequenceEndType, token.MappingEndType:
			depth--
		}
		if depth > 1 {
			return &JobError{Line: t.Position.Line, Text: "too many brackets: this is no job file"}
		}
	}
	return nil
}

// jobFault turns the YAML library's error into one line with its place.
func jobFault(file string, err error) *JobError {
	out := &JobError{File: file}
	var located yaml.Error
	if !errors.As(err, &located) || located.GetToken() == nil {
		out.Text = oneLine(err.Error())
		return out
	}
	out.Line = located.GetToken().Position.Line
	out.Text = oneLine(located.GetMessage())
	var unknown *yaml.UnknownFieldError
	var kind *yaml.TypeError
	var node *yaml.UnexpectedNodeTypeError
	switch {
	case errors.As(err, &unknown):
		out.Text = fmt.Sprintf("no such key as %q: there are %s", located.GetToken().Value, jobKeys)
	case errors.As(err, &kind) && kind.DstType.Kind() == reflect.Float64:
		out.Text = "write a number of millimetres here, like 2"
	case errors.As(err, &kind):
		out.Text = "write a text in quotation marks here"
	case errors.As(err, &node):
		out.Text = "a job file is keys with a value each: " + jobKeys + "; stations is a list, like [rear-left, middle]"
	}
	return out
}

// fault is what the YAML reader does not look at.
func (j JobFile) fault() string {
	if math.IsNaN(j.LimitMM) || math.IsInf(j.LimitMM, 0) || j.LimitMM < 0 {
		return "limit_mm: write a number of millimetres above 0 here"
	}
	for _, text := range []string{j.Reference, j.Machine, j.Technician, j.Site, j.Notes} {
		if utf8.RuneCountInString(text) > maxJobText {
			return fmt.Sprintf("a text of over %d letters: shorten it", maxJobText)
		}
	}
	return ""
}

// oneLine is the first line of a text.
func oneLine(text string) string {
	line, _, _ := strings.Cut(strings.TrimSpace(text), "\n")
	return line
}

// bare is a file error's cause without the file's name.
func bare(err error) error {
	if path := (*fs.PathError)(nil); errors.As(err, &path) {
		return path.Err
	}
	return err
}
