// Command rehearse is a simulated laser machine to practise aligning on: it
// fires, photographs the marks, and takes turns of its screws.
package main

import (
	"io"
	"os"
	"runtime/debug"

	"burngauge.dev/burngauge/pkg/terminal/command"
)

// gcPercent keeps the memory of 12-megapixel pictures down: each is 48 MB, and garbage
// soon after it has been written. Collecting oftener costs no time that can be measured.
const gcPercent = 25

func main() {
	debug.SetGCPercent(gcPercent)
	os.Exit(run(os.Stdin, os.Stdout, os.Stderr, os.Args[1:]))
}

// run is the whole program: args without the program's name, the exit code back.
func run(stdin io.Reader, stdout, stderr io.Writer, args []string) int {
	return command.Program{In: stdin, Out: stdout, Err: stderr, Args: args}.Run(newRootCmd)
}
