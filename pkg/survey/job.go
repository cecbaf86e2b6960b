package survey

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/strictyaml"
)

// JobFileName is the file in a surveyed folder that holds the job's details.
const JobFileName = "job.yaml"

// JobFile is what job.yaml may say. The command line overrides it.
type JobFile struct {
	report.Job `yaml:",inline"`
	Target     string   `yaml:"target"`   // built-in name, or spec file in the same folder
	LimitMM    float64  `yaml:"limit_mm"` // 0: not given
	Stations   []string `yaml:"stations"` // the expected ones
}

// jobKeys names the keys, for whoever misspelt one.
const jobKeys = "reference, machine, technician, site, notes, target, limit_mm, stations"

// maxJobText bounds one text in letters: notes of two pages.
const maxJobText = 8000

// jobRules bounds the file; a full one is under 1 KB.
var jobRules = strictyaml.Rules{
	What: "job file", MaxBytes: 64 << 10, Depth: 1,
	Keys:   "there are " + jobKeys,
	Wanted: wantedOfJob,
}

// wantedOfJob says what kind of value a key takes.
func wantedOfJob(key string) string {
	switch key {
	case "":
		return "a job file is keys with a value each: " + jobKeys
	case "limit_mm":
		return "write a number of millimetres here, like 2"
	case "stations":
		return "write a list here, like [rear-left, middle]"
	}
	return "write a text in quotation marks here"
}

// JobError says what is wrong with a job file.
type JobError struct {
	File  string // its path
	Cause error  // a *strictyaml.Fault, or why the file could not be read
}

// Error is one line: the file, the place and key as far as known, the text.
func (e *JobError) Error() string { return fmt.Sprintf("job file %s: %v", e.File, e.Cause) }

// Unwrap returns the cause.
func (e *JobError) Unwrap() error { return e.Cause }

// ReadJob reads the folder's job.yaml. Without one it gives the zero JobFile.
// Every error is a *JobError.
func ReadJob(folder string) (JobFile, error) {
	path := filepath.Join(folder, JobFileName)
	data, err := jobRules.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return JobFile{}, nil
	case err != nil:
		return JobFile{}, &JobError{File: path, Cause: fmt.Errorf("cannot be read (%w): check that it is a file that may be read", err)}
	}
	return ParseJob(path, data)
}

// MisnamedJob is the file in a folder without job.yaml that seems meant as one,
// such as Job.yml; "" when there is none.
func MisnamedJob(folder string) string {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return "" // whoever reads the photos says so
	}
	found := ""
	for _, e := range entries {
		switch name := e.Name(); {
		case name == JobFileName:
			return ""
		case slices.Contains([]string{"job.yaml", "job.yml", "job.yaml.txt", "job.txt"}, strings.ToLower(name)):
			found = name
		}
	}
	return found
}

// ParseJob reads a job file's text; file is its name for messages. A key that
// it does not know is refused, with those there are.
func ParseJob(file string, data []byte) (JobFile, error) {
	var job JobFile
	source, err := strictyaml.Decode(data, jobRules, &job)
	if errors.Is(err, strictyaml.ErrEmpty) {
		return JobFile{}, nil
	}
	if err != nil {
		return JobFile{}, &JobError{File: file, Cause: err}
	}
	if key, text := job.fault(); text != "" {
		return JobFile{}, &JobError{File: file, Cause: source.Fault(key, text)}
	}
	return job, nil
}

// fault is what the YAML reader does not look at.
func (j JobFile) fault() (key, text string) {
	if math.IsNaN(j.LimitMM) || math.IsInf(j.LimitMM, 0) || j.LimitMM < 0 {
		return "limit_mm", "write a number of millimetres above 0 here"
	}
	for key, text := range map[string]string{"reference": j.Reference, "machine": j.Machine, "technician": j.Technician, "site": j.Site, "notes": j.Notes} {
		if utf8.RuneCountInString(text) > maxJobText {
			return key, fmt.Sprintf("a text of over %d letters: shorten it", maxJobText)
		}
	}
	return "", ""
}
