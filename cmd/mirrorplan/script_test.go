package main

import (
	"errors"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"mirrorplan": main})
}

// TestCommand runs the real program as its users do; each script is one claim.
func TestCommand(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:  "testdata/script",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "survey": surveyed},
	})
}

// exits CODE COMMAND...: the command ends with exactly this code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
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

// survey FILE STATION=RIGHT,UP...: a report of burns at these places, mm.
func surveyed(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: survey FILE STATION=RIGHT,UP...")
	}
	var burns []burn
	for _, arg := range args[1:] {
		station, place, _ := strings.Cut(arg, "=")
		right, up, _ := strings.Cut(place, ",")
		r, err := strconv.ParseFloat(right, 64)
		ts.Check(err)
		u, err := strconv.ParseFloat(up, 64)
		ts.Check(err)
		burns = append(burns, burn{station, r, u})
	}
	ts.Check(reportOf(burns).WriteFile(ts.MkAbs(args[0])))
}
