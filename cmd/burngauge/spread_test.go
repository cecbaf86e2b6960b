package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/needs"
)

// fakeSSH stands in for ssh where a test has no second machine: it drops the host
// and lets a shell of its own have the command, with SHELL set, as sshd does: what
// GNU parallel runs over there asks for it, and says nothing when it is missing.
const fakeSSH = `#!/bin/sh
shift
[ "$1" = -- ] && shift
SHELL=/bin/sh exec sh -c "$*"
`

// spreadCommands are the lines of `help many-photos` that spread --ndjson, by the
// program that spreads.
func spreadCommands(t *testing.T) (folders, machines, photos string) {
	t.Helper()
	text, err := topicFiles.ReadFile("topics/many-photos.txt")
	require.NoError(t, err)
	find := func(expression string) string {
		found := regexp.MustCompile(`(?m)` + expression).FindString(string(text))
		require.NotEmpty(t, found, "the topic has no line like %s", expression)
		return strings.TrimSpace(found)
	}
	return find(`^    find archive .*-type d.*\n.*xargs.*survey.*$`), find(`^    parallel .*survey.*$`), find(`^    find archive .*xargs.*measure.*$`)
}

// archive is a folder of two surveys of good photos, one with a space in its name.
func archive(t *testing.T) (root string) {
	t.Helper()
	root = t.TempDir()
	good, _, _ := photosByTruth(t)
	data, err := os.ReadFile(good)
	require.NoError(t, err)
	for _, name := range []string{"one/middle.jpg", "two words/middle.jpg", "two words/rear left.jpg"} {
		path := filepath.Join(root, "archive", name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, data, 0o644))
	}
	return root
}

// spread runs one of the topic's lines in the folder that holds the archive and
// gives every line of JSON that it left.
func spread(t *testing.T, root, line string) (places []string, code int) {
	t.Helper()
	ssh := filepath.Join(t.TempDir(), "ssh")
	require.NoError(t, os.WriteFile(ssh, []byte(fakeSSH), 0o755))
	cmd := exec.Command("sh", "-c", strings.ReplaceAll(line, " /archive/", " "+root+"/archive/"))
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "PARALLEL_SSH="+ssh, "PARALLEL_HOME="+t.TempDir(), "HOME="+root)
	output, err := cmd.CombinedOutput()
	var exit *exec.ExitError
	if err != nil {
		require.ErrorAs(t, err, &exit, "%s", output)
	}
	var files []string
	for _, pattern := range []string{"*.ndjson", "archive/*/*.ndjson"} {
		found, err := filepath.Glob(filepath.Join(root, pattern))
		require.NoError(t, err)
		files = append(files, found...)
	}
	require.NotEmpty(t, files, "%s", output)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		require.NoError(t, os.Remove(file))
		for one := range bytes.Lines(data) {
			var m struct {
				Station, Folder, Status string
				Photo                   struct{ File string }
			}
			require.NoError(t, json.Unmarshal(one, &m), "%s", one)
			places = append(places, filepath.Base(m.Folder)+": "+m.Station+", "+m.Photo.File+", "+m.Status)
		}
	}
	return places, cmd.ProcessState.ExitCode()
}

// The lines of the topic do what it says: every mark is there once, on a line that
// says where it belongs, and the exit code says that a photo was not measured.
func TestTheLinesForManyPhotosSpreadTheWork(t *testing.T) {
	folders, machines, photos := spreadCommands(t)
	surveyed := []string{"one: middle, middle.jpg, measured", "two words: middle, middle.jpg, measured", "two words: rear-left, rear left.jpg, measured"}
	measured := []string{".: , middle.jpg, measured", ".: , middle.jpg, measured", ".: , rear left.jpg, measured"}
	for _, c := range []struct {
		line   string
		places []string
		failed int // exit code when both folders hold a photo that is none
	}{{folders, surveyed, 123}, {machines, surveyed, 2}, {photos, measured, 123}} {
		t.Run(strings.Fields(c.line)[0], func(t *testing.T) {
			needs.Program(t, strings.Fields(c.line)[0], "findutils parallel")
			root := archive(t)
			places, code := spread(t, root, c.line)
			assert.ElementsMatch(t, c.places, places)
			assert.Zero(t, code)
			for _, folder := range []string{"one", "two words"} {
				require.NoError(t, os.WriteFile(filepath.Join(root, "archive", folder, "front right.jpg"), []byte("no photo"), 0o644))
			}
			places, code = spread(t, root, c.line)
			assert.Len(t, places, len(c.places)+2)
			assert.Equal(t, c.failed, code)
		})
	}
}
