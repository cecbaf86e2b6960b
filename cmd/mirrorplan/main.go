// Command mirrorplan turns a survey's report into turns of the mirrors' screws.
package main

import (
	"io"
	"os"

	"burngauge.dev/burngauge/pkg/terminal/command"
)

func main() {
	os.Exit(run(os.Stdin, os.Stdout, os.Stderr, os.Args[1:]))
}

// run is the whole program: args without the program's name, the exit code back.
func run(stdin io.Reader, stdout, stderr io.Writer, args []string) int {
	return command.Program{In: stdin, Out: stdout, Err: stderr, Args: args}.Run(newRootCmd)
}
