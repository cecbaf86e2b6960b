package terminal

import (
	"context"
	"errors"
	"fmt"
)

// Exit codes of all the programs. They are part of the interface that scripts
// rely on.
const (
	ExitDone        = 0
	ExitFailed      = 1   // another failure
	ExitUsage       = 2   // wrong usage, spec, profile or report
	ExitNotMeasured = 3   // some photos not measured, the rest done
	ExitDifference  = 4   // verification found a difference
	ExitBeyond      = 5   // beyond the screws
	ExitNotWritten  = 6   // could not write
	ExitOutside     = 7   // outside the limit, only when asked to fail on it
	ExitInterrupted = 130 // by Ctrl-C, as shells count it: 128 + SIGINT
)

// Failure is an error that knows its exit code and what to run next.
type Failure struct {
	Code int
	Err  error
	Hint string // a command to run or one thing to do, "" for none
}

// Error is the cause's text.
func (f *Failure) Error() string { return f.Err.Error() }

// Unwrap returns the cause.
func (f *Failure) Unwrap() error { return f.Err }

// Fail makes a Failure. The hint is one line, or "".
func Fail(code int, err error, hint string) error {
	return &Failure{Code: code, Err: err, Hint: hint}
}

// Usagef is a wrong use of the command.
func Usagef(hint, format string, args ...any) error {
	return Fail(ExitUsage, fmt.Errorf(format, args...), hint)
}

// NotWritten is a file or stream that could not be written.
func NotWritten(err error) error {
	return Fail(ExitNotWritten, err, "check that the place exists, is not full and may be written to")
}

// ExitCode turns an error into the program's exit code. It is the one place
// that does.
func ExitCode(err error) int {
	var failure *Failure
	switch {
	case err == nil:
		return ExitDone
	case errors.Is(err, context.Canceled):
		return ExitInterrupted
	case errors.As(err, &failure):
		return failure.Code
	}
	return ExitFailed
}

// Report writes the error as the one line, then its hint as another.
func (s Streams) Report(err error) {
	if err == nil {
		return
	}
	if errors.Is(err, context.Canceled) {
		s.Note("interrupted")
		return
	}
	s.Note("%s %s", Paint(s.ErrColour, Bad, "error:"), oneLine(err.Error()))
	var failure *Failure
	if errors.As(err, &failure) && failure.Hint != "" {
		s.Note("%s %s", Paint(s.ErrColour, Strong, "hint:"), oneLine(failure.Hint))
	}
}
