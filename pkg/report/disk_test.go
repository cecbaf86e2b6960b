package report

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/needs"
)

// Variables that make the test's own program the one that is killed or runs
// into a full disk: the file to write.
const (
	killedFile = "BURNGAUGE_TEST_KILLED_FILE"
	fullFile   = "BURNGAUGE_TEST_FULL_FILE"
)

func TestMain(m *testing.M) {
	if path := os.Getenv(killedFile); path != "" {
		for {
			if err := big().WriteFile(path); err != nil {
				panic(err)
			}
		}
	}
	os.Exit(m.Run())
}

// big is a report of a megabyte or two, which takes a while to write.
func big() *Report {
	r := sample()
	r.Job.Notes = strings.Repeat("a long story ", 1<<17)
	return r
}

// names are those of the files in a folder, hidden ones too.
func names(t *testing.T, dir string) (out []string) {
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, entry := range entries {
		out = append(out, entry.Name())
	}
	return out
}

func TestFailuresOfTheDiskAreErrors(t *testing.T) {
	dir := t.TempDir()
	for path, says := range map[string]string{
		"/dev/full":                           "writing /dev/full: no space left on device",
		filepath.Join(dir, "no", "file.json"): "file.json: no such file or directory",
		dir:                                   "is a directory",
	} {
		if path == "/dev/full" && runtime.GOOS != "linux" {
			continue
		}
		err := sample().WriteFile(path)
		var disk *WriteError
		require.True(t, errors.As(err, &disk), "%v", err)
		assert.Equal(t, path, disk.File)
		assert.Contains(t, err.Error(), says)
	}
	assert.Empty(t, names(t, dir))
	assert.ErrorIs(t, sample().WriteFile("/dev/full"), syscall.ENOSPC)
}

// A disk of 64 kB that holds a small report and has no room for a big one. It
// is mounted in a namespace of its own, where this test is run again.
func TestAFullDiskLeavesTheOldFile(t *testing.T) {
	if path := os.Getenv(fullFile); path != "" {
		writeOnFullDisk(t, path)
		return
	}
	needs.Program(t, "unshare", "util-linux")
	dir := t.TempDir()
	mount := `mount -t tmpfs -o size=64k none "$1"`
	if out, err := exec.Command("unshare", "-rm", "sh", "-c", mount, "sh", dir).CombinedOutput(); err != nil {
		needs.Refused(t, fmt.Sprintf("no small disk can be mounted here: %v: %s", err, bytes.TrimSpace(out)))
	}
	command := exec.Command("unshare", "-rm", "sh", "-c", mount+` && exec "$2" -test.run '^TestAFullDiskLeavesTheOldFile$' -test.v`, "sh", dir, os.Args[0])
	command.Env = append(os.Environ(), fullFile+"="+filepath.Join(dir, "report.json"))
	out, err := command.CombinedOutput()
	require.NoError(t, err, "%s", out)
	assert.Contains(t, string(out), "--- PASS: TestAFullDiskLeavesTheOldFile")
}

func writeOnFullDisk(t *testing.T, path string) {
	require.NoError(t, sample().WriteFile(path))
	old, err := os.ReadFile(path)
	require.NoError(t, err)
	err = big().WriteFile(path)
	var disk *WriteError
	require.True(t, errors.As(err, &disk), "%v", err)
	assert.ErrorIs(t, err, syscall.ENOSPC)
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(old), string(now))
	assert.Equal(t, []string{"report.json"}, names(t, filepath.Dir(path)), "no draft is left")
}

// A program that writes without end is killed once a draft is seen beside the
// file, that is between the draft's start and its renaming.
func TestAKilledProgramLeavesAWholeFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "report.json")
	require.NoError(t, sample().WriteFile(path))
	for range 3 {
		command := exec.Command(os.Args[0])
		command.Env = append(os.Environ(), killedFile+"="+path)
		require.NoError(t, command.Start())
		deadline := time.Now().Add(30 * time.Second)
		for len(drafts(t, path)) == 0 {
			require.True(t, time.Now().Before(deadline), "no draft was ever seen")
		}
		require.NoError(t, command.Process.Kill())
		_ = command.Wait() // it was killed
		r, err := ReadFile(path)
		require.NoError(t, err)
		assert.True(t, r.DigestOK())
		for _, draft := range drafts(t, path) {
			require.NoError(t, os.Remove(draft))
		}
	}
}

// drafts are the hidden files beside the report.
func drafts(t *testing.T, path string) []string {
	out, err := filepath.Glob(filepath.Join(filepath.Dir(path), ".*.report.json"))
	require.NoError(t, err)
	return out
}
