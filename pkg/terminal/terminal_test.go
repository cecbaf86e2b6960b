package terminal_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/terminal"
)

// The codes are the programs' interface: 0 done, 1 another failure, 2 wrong
// usage, 3 some photos not measured, 6 could not write, 7 outside; 130 is what
// POSIX shells give a program that SIGINT (2) ended, 128 + 2.
func TestEveryErrorHasItsExitCode(t *testing.T) {
	for _, c := range []struct {
		err  error
		code int
	}{
		{nil, 0},
		{errors.New("another"), 1},
		{terminal.Usagef("", "no photo given"), 2},
		{terminal.Fail(terminal.ExitNotMeasured, errors.New("1 of 2"), ""), 3},
		{terminal.Fail(terminal.ExitDifference, errors.New("digest"), ""), 4},
		{terminal.Fail(terminal.ExitBeyond, errors.New("twist"), ""), 5},
		{terminal.NotWritten(io.ErrShortWrite), 6},
		{terminal.Fail(terminal.ExitOutside, errors.New("outside"), ""), 7},
		{context.Canceled, 130},
		{fmt.Errorf("wrapped: %w", terminal.Usagef("", "x")), 2},
	} {
		assert.Equal(t, c.code, terminal.ExitCode(c.err), "%v", c.err)
	}
}

func TestReportIsOneErrorLineThenOneHintLine(t *testing.T) {
	var out, talk bytes.Buffer
	s := terminal.NewStreams(nil, &out, &talk)
	s.Report(terminal.Usagef("burngauge measure --help", "file %q\nover two lines \x1b[31m", "a"))
	assert.Equal(t, "error: file \"a\" over two lines \uFFFD[31m\nhint: burngauge measure --help\n", talk.String())
	assert.Empty(t, out.String())
}

func TestReportWithoutAHintIsOneLine(t *testing.T) {
	var talk bytes.Buffer
	terminal.NewStreams(nil, io.Discard, &talk).Report(errors.New("it broke"))
	assert.Equal(t, "error: it broke\n", talk.String())
}

func TestOnlyTerminalsGetColourAndProgress(t *testing.T) {
	var talk bytes.Buffer
	s := terminal.NewStreams(nil, io.Discard, &talk)
	assert.False(t, s.OutColour)
	assert.False(t, s.ErrColour)
	p := s.Progress("photos", 3)
	p.Done(1)
	p.Clear()
	assert.Empty(t, talk.String())
}

func TestProgressIsWrittenOverAndCleared(t *testing.T) {
	var talk bytes.Buffer
	s := terminal.Streams{Err: &talk, ErrTerminal: true}
	p := s.Progress("photos", 3)
	p.Done(1)
	p.Done(2)
	p.Clear()
	p.Clear()
	assert.Equal(t, "\r\x1b[K[#####...........] 1 of 3 photos\r\x1b[K[##########......] 2 of 3 photos\r\x1b[K", talk.String())
}

func TestPaintLeavesTextAloneWithoutColour(t *testing.T) {
	assert.Equal(t, "inside", terminal.Paint(false, terminal.Good, "inside"))
	assert.Equal(t, "\x1b[32minside\x1b[0m", terminal.Paint(true, terminal.Good, "inside"))
}

func write(text string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, text); return err }
}

func files(t *testing.T, dir string) []string {
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func TestAFailedWriteLeavesTheOldFileAndNothingElse(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "sheet.svg")
	require.NoError(t, terminal.WriteFile(path, write("old")))
	err := terminal.WriteFile(path, func(w io.Writer) error {
		_, _ = io.WriteString(w, "half")
		return errors.New("the pen ran dry")
	})
	assert.EqualError(t, err, "writing "+path+": the pen ran dry")
	assert.Equal(t, terminal.ExitNotWritten, terminal.ExitCode(err))
	got, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "old", string(got))
	assert.Equal(t, []string{"sheet.svg"}, files(t, dir))
}

func TestAMissingFolderIsNamedWithTheFileThatWasMeant(t *testing.T) {
	path := filepath.Join(t.TempDir(), "no", "a.svg")
	err := terminal.WriteFile(path, write("x"))
	assert.EqualError(t, err, "writing "+path+": no such file or directory")
}
