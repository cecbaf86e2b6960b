// Package terminal holds what every command shares: its streams, colour,
// progress, and errors with their exit codes, those of files that could not be
// written among them.
//
// The rules: results go to standard output, talk to standard error. A failure
// is one line "error: ...", then, when there is something to run, one line
// "hint: ...". Colour is for terminals only, and NO_COLOR turns it off.
package terminal

import (
	"fmt"
	"io"
	"os"
)

// Streams are a command's input and outputs.
type Streams struct {
	In  io.Reader
	Out io.Writer // results
	Err io.Writer // talk: progress, notes, errors

	OutColour, ErrColour bool // whether the stream takes colour
	ErrTerminal          bool // whether a line on Err can be written over
}

// NewStreams looks at the outputs and the environment to settle colour and
// progress.
func NewStreams(in io.Reader, out, err io.Writer) Streams {
	return Streams{
		In: in, Out: out, Err: err,
		OutColour:   isTerminal(out) && colourWanted(os.Getenv),
		ErrColour:   isTerminal(err) && colourWanted(os.Getenv),
		ErrTerminal: isTerminal(err) && os.Getenv("TERM") != "dumb",
	}
}

// Note writes one line of talk.
func (s Streams) Note(format string, args ...any) {
	fmt.Fprintf(s.Err, format+"\n", args...)
}

// isTerminal takes any character device for a terminal. That includes the null
// device, where it does no harm.
func isTerminal(w io.Writer) bool {
	file, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := file.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// colourWanted follows no-color.org: any value of NO_COLOR but the empty one
// turns colour off. Terminals that call themselves dumb have none.
func colourWanted(env func(string) string) bool {
	return env("NO_COLOR") == "" && env("TERM") != "dumb"
}
