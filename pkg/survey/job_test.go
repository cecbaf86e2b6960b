package survey

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTheFixturesJobIsRead(t *testing.T) {
	job, err := ReadJob("../../fixtures/survey")
	require.NoError(t, err)
	assert.Equal(t, "WO-2026-0914", job.Reference)
	assert.Equal(t, "flatbed 900 x 600, serial F-0017", job.Machine)
	assert.Equal(t, "plain-4.yaml", job.Target)
	assert.Equal(t, 2.0, job.LimitMM)
	assert.Equal(t, "first round after a tube change", job.Notes)
}

func TestWithoutAJobFileThereIsNoJob(t *testing.T) {
	job, err := ReadJob(t.TempDir())
	require.NoError(t, err)
	assert.Zero(t, job)
}

func TestAnEmptyJobFileIsNoJob(t *testing.T) {
	for _, text := range []string{"", " \n", "# to be filled in\n"} {
		job, err := ParseJob("job.yaml", []byte(text))
		require.NoError(t, err, text)
		assert.Zero(t, job)
	}
}

func TestAWrongJobFileSaysWhereAndWhat(t *testing.T) {
	cases := map[string]string{
		"\nrefrence: A\n":                      `2:1: refrence: no such key: there are reference, `,
		"limit_mm: two\n":                      `1:11: limit_mm: write a number of millimetres`,
		"limit_mm: .nan\n":                     `1:11: limit_mm: write a number of millimetres above 0`,
		"limit_mm: -1\n":                       `1:11: limit_mm: write a number of millimetres above 0`,
		"reference: [a]\n":                     `1:12: reference: write a text`,
		"reference: a\nreference: b\n":         `2:1: `,
		"a\n":                                  `1:1: a job file is keys`,
		"stations: middle\n":                   `1:11: stations: write a list`,
		"reference: a\n---\nsite: b\n":         `2:1: only one job file to a file`,
		"reference: &a b\nsite: *a\n":          `1:12: "&": anchors, aliases and tags`,
		"reference: \xff\n":                    `not a text in UTF-8`,
		"notes: " + strings.Repeat("x", 70000): `over 64 KB`,
		"notes: " + strings.Repeat("x", 9000):  `1:8: notes: a text of over 8000 letters`,
		"stations: [[a]]\n":                    `1:12: brackets nested too deep`,
	}
	for text, want := range cases {
		path := filepath.Join(t.TempDir(), JobFileName)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		_, err := ReadJob(filepath.Dir(path))
		var wrong *JobError
		require.ErrorAs(t, err, &wrong, text)
		assert.True(t, strings.HasPrefix(err.Error(), "job file "+path+": "+want), "%v", err)
	}
}

func TestNumbersAreTakenAsText(t *testing.T) {
	job, err := ParseJob("job.yaml", []byte("reference: 0042\nsite: 1.50\nstations: [A, 2.0]\nnotes: |\n  two\n  lines\n"))
	require.NoError(t, err)
	assert.Equal(t, "0042", job.Reference)
	assert.Equal(t, "1.50", job.Site)
	assert.Equal(t, []string{"A", "2.0"}, job.Stations)
	assert.Equal(t, "two\nlines\n", job.Notes)
}

// An editor's byte order mark is no part of the first key.
func TestAByteOrderMarkIsPassedOver(t *testing.T) {
	job, err := ParseJob("job.yaml", []byte("\ufeffreference: WO-1\r\nlimit_mm: 3\r\n"))
	require.NoError(t, err)
	assert.Equal(t, "WO-1", job.Reference)
	assert.Equal(t, 3.0, job.LimitMM)
	_, err = ParseJob("job.yaml", []byte("\ufeffmachin: a\n"))
	require.ErrorContains(t, err, "1:1: machin: no such key")
}

func TestAJobFileOfAnotherNameIsFound(t *testing.T) {
	for name, want := range map[string]string{"job.yml": "job.yml", "Job.YAML": "Job.YAML", "job.yaml.txt": "job.yaml.txt", "jobs.yaml": "", "rear-left.jpg": ""} {
		folder := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), nil, 0o644))
		assert.Equal(t, want, MisnamedJob(folder))
		require.NoError(t, os.WriteFile(filepath.Join(folder, JobFileName), nil, 0o644))
		assert.Empty(t, MisnamedJob(folder), "beside the right one")
	}
	assert.Empty(t, MisnamedJob(filepath.Join(t.TempDir(), "nowhere")))
}

func FuzzParseJob(f *testing.F) {
	for _, text := range []string{"reference: a\n", "limit_mm: 2\nstations: [a, b]\n", "{", "- a", "a: &b [*b]", "---\n", ""} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		job, err := ParseJob("job.yaml", data)
		if err == nil {
			require.GreaterOrEqual(t, job.LimitMM, 0.0)
			return
		}
		var wrong *JobError
		require.True(t, errors.As(err, &wrong))
		require.NotContains(t, wrong.Error(), "\n")
	})
}
