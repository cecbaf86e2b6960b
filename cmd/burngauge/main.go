// Command burngauge measures laser burn marks in phone photos of ring targets.
package main

import (
	"io"
	"os"

	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

func main() {
	// libjpeg and libpng talk to standard error by themselves; our own line about
	// a damaged file says it better. At worst theirs stands beside it.
	_ = photo.QuietLibraries()
	os.Exit(run(os.Stdin, os.Stdout, os.Stderr, os.Args[1:]))
}

// run is the whole program: args without the program's name, the exit code back.
func run(stdin io.Reader, stdout, stderr io.Writer, args []string) int {
	return command.Program{In: stdin, Out: stdout, Err: stderr, Args: args}.Run(newRootCmd)
}
