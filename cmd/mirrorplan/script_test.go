package main

import (
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"burngauge.dev/burngauge/pkg/terminal/scripted"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"mirrorplan": main})
}

// TestCommand runs the real program as its users do; each script is one claim.
func TestCommand(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:  "testdata/script",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": scripted.Exits, "survey": surveyed},
	})
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
