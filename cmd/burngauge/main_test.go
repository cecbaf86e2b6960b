package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shape of one measurement, as programs that read it rely on: key to keys.
var measurementKeys = map[string][]string{
	"":            {"mark", "offset", "photo", "refusal", "size", "status", "target", "uncertainty", "verdict", "view", "warnings"},
	"photo":       {"bytes", "camera", "file", "height", "sha256", "taken", "width"},
	"offset":      {"clock", "distance_mm", "right_mm", "rings", "up_mm"},
	"uncertainty": {"budget", "covariance_mm2", "coverage", "radius_mm"},
	"size":        {"axis_deg", "major_mm", "minor_mm", "shape"},
	"verdict":     {"limit_mm", "probability", "rule", "state"},
	"view":        {"centre_px", "px_per_mm", "rings_seen", "roll_deg", "tilt_deg"},
}

// call runs the program within this process.
func call(args ...string) (stdout, stderr string, code int) {
	var out, talk bytes.Buffer
	code = run(strings.NewReader(""), &out, &talk, args)
	return out.String(), talk.String(), code
}

func keys(m map[string]any) []string { return slices.Sorted(maps.Keys(m)) }

// checkShape holds a measured measurement against the format.
func checkShape(t *testing.T, m map[string]any) {
	t.Helper()
	assert.Equal(t, measurementKeys[""], keys(m))
	for part, want := range measurementKeys {
		if part == "" {
			continue
		}
		inner, ok := m[part].(map[string]any)
		if assert.True(t, ok, "%s of a measured photo is not an object", part) {
			assert.Equal(t, want, keys(inner), part)
		}
	}
	assert.Equal(t, "measured", m["status"])
	assert.Nil(t, m["refusal"])
	assert.IsType(t, []any{}, m["warnings"], "warnings is a list, also when empty")
}

func TestJSONHasTheFixedShape(t *testing.T) {
	good, _, refused := photosByTruth(t)
	out, talk, code := call("measure", "--json", good, refused)
	require.Equal(t, 3, code, talk)
	var doc map[string]any
	require.NoError(t, json.Unmarshal([]byte(out), &doc))
	require.Equal(t, []string{"measurements", "schema"}, keys(doc))
	assert.Equal(t, "burngauge.measurements/1", doc["schema"])
	list := doc["measurements"].([]any)
	require.Len(t, list, 2)
	checkShape(t, list[0].(map[string]any))

	no := list[1].(map[string]any)
	assert.Equal(t, measurementKeys[""], keys(no))
	assert.Equal(t, "refused", no["status"])
	assert.Nil(t, no["offset"])
	assert.Equal(t, []string{"code", "text"}, keys(no["refusal"].(map[string]any)))
}

func TestNDJSONIsOneMeasurementALineInTheOrderGiven(t *testing.T) {
	good, both, _ := photosByTruth(t)
	out, talk, code := call("measure", "--ndjson", "--mark", "both", both, both, "missing.jpg", good)
	require.Equal(t, 3, code, talk)
	var got []string
	for line := range strings.Lines(out) {
		var m struct {
			Mark  string
			Photo struct{ File string }
		}
		require.NoError(t, json.Unmarshal([]byte(line), &m))
		got = append(got, m.Photo.File+" "+m.Mark)
	}
	var want []string
	for _, file := range []string{both, both, "missing.jpg", good} {
		want = append(want, filepath.Base(file)+" burn", filepath.Base(file)+" pointer")
	}
	assert.Equal(t, want, got)
}

// program starts the real program as a process of its own.
func program(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(self)
	cmd.Args = append([]string{"burngauge"}, args...) // TestMain goes by the name
	return cmd
}

func TestAnInterruptLeavesWholeLinesAndWholeFiles(t *testing.T) {
	good, _, _ := photosByTruth(t)
	dir := t.TempDir()
	args := []string{"measure", "--ndjson", "--overlay", dir}
	for range 500 { // minutes of work: it cannot end by itself
		args = append(args, good)
	}
	cmd := program(t, args...)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	lines := bufio.NewReader(out)
	first, err := lines.ReadString('\n')
	require.NoError(t, err)
	require.NoError(t, cmd.Process.Signal(syscall.SIGINT))
	rest, err := io.ReadAll(lines)
	require.NoError(t, err)
	require.Error(t, cmd.Wait())
	assert.Equal(t, 130, cmd.ProcessState.ExitCode())

	for line := range strings.Lines(first + string(rest)) {
		assert.True(t, json.Valid([]byte(line)), "%q", line)
	}
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.NotEmpty(t, entries)
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		require.NoError(t, err)
		assert.True(t, strings.HasSuffix(e.Name(), ".overlay.jpg"), e.Name())
		assert.True(t, bytes.HasSuffix(data, []byte{0xFF, 0xD9}), "%s has no end marker", e.Name())
	}
}

func TestAFullDiskHasItsExitCode(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("this system has no /dev/full")
	}
	defer full.Close()
	var talk bytes.Buffer
	code := run(nil, full, &talk, []string{"target", "--list"})
	assert.Equal(t, 6, code)
	assert.Contains(t, talk.String(), "no space left on device")
}
