package main

import (
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"burngauge.dev/burngauge/pkg/terminal/scripted"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"rehearse": main})
}

// TestCommand runs the real program as its users do; each script is one claim.
func TestCommand(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:  "testdata/script",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": scripted.Exits},
	})
}
