package main

import (
	"bufio"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/report"
)

// copySlowly writes a file as a phone over a weak network does: in pieces, with
// pauses longer than survey.Settle.
func copySlowly(t *testing.T, from, to string) {
	t.Helper()
	data, err := os.ReadFile(from)
	require.NoError(t, err)
	file, err := os.Create(to)
	require.NoError(t, err)
	defer file.Close()
	const pieces = 4
	for i := range pieces {
		_, err := file.Write(data[len(data)*i/pieces : len(data)*(i+1)/pieces])
		require.NoError(t, err)
		if i+1 < pieces {
			time.Sleep(700 * time.Millisecond)
		}
	}
}

// A phone's folder: a photo there before, one that is copied slowly, one that
// arrives by a rename, one that is removed; then Ctrl-C.
func TestWatchMeasuresWhatLandsAndEndsCleanly(t *testing.T) {
	round, dir := filepath.FromSlash("../../fixtures/survey"), t.TempDir()
	from := func(name string) string { return filepath.Join(round, name) }
	to := func(name string) string { return filepath.Join(dir, name) }
	copySlowly(t, from("middle.jpeg"), to("middle.jpeg"))

	cmd := program(t, "survey", "--watch", dir, "-o", to("report.json"))
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	var talk strings.Builder
	cmd.Stderr = &talk
	require.NoError(t, cmd.Start())
	lines := bufio.NewReader(out)
	next := func() string {
		line, err := lines.ReadString('\n')
		require.NoError(t, err)
		return line
	}
	assert.Contains(t, next(), "middle  middle.jpeg  burn  1.1")
	copySlowly(t, from("Rear Left.JPG"), to("Rear Left.JPG"))
	assert.Contains(t, next(), "rear-left  Rear Left.JPG  burn  0.49")
	copySlowly(t, from("front_left.jpg"), to("front_left.jpg.part"))
	require.NoError(t, os.Rename(to("front_left.jpg.part"), to("front_left.jpg")))
	assert.Contains(t, next(), "front-left  front_left.jpg  burn  0.8")
	require.NoError(t, os.Remove(to("middle.jpeg")))

	stations := func() (names []string) {
		r, err := report.ReadFile(to("report.json"))
		if err != nil {
			return nil
		}
		for _, s := range r.Stations {
			names = append(names, s.Station)
		}
		return names
	}
	require.Eventually(t, func() bool { return slices.Equal(stations(), []string{"rear-left", "front-left"}) },
		30*time.Second, 50*time.Millisecond, "the report is kept current")

	require.NoError(t, cmd.Process.Signal(syscall.SIGINT))
	rest, err := io.ReadAll(lines)
	require.NoError(t, err)
	assert.Empty(t, string(rest), "a half-copied photo is waited for, not reported")
	require.NoError(t, cmd.Wait(), "exit code 0")
	assert.Contains(t, talk.String(), reminder, "whoever fires now is reminded first")
	assert.Contains(t, talk.String(), "middle.jpeg is gone: taken out of the report\n")
	assert.NotContains(t, talk.String(), "error")
}
