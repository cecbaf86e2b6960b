// Package scripted holds what the tests of every command have in common; only
// tests import it.
package scripted

import (
	"errors"
	"os/exec"
	"strconv"

	"github.com/rogpeppe/go-internal/testscript"
)

// Exits is the script command "exits CODE COMMAND [ARG...]": the command ends
// with exactly this code.
func Exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND [ARG...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Check(err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d\n%s%s", got, want, ts.ReadFile("stdout"), ts.ReadFile("stderr"))
	}
}
