// Command rehearse is a simulated laser machine to practise aligning on: it
// fires, photographs the marks, and takes turns of its screws.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"burngauge.dev/burngauge/pkg/terminal"
)

// gcPercent keeps the memory of 12-megapixel pictures down: each is over a
// hundred megabytes while it is developed, and garbage soon after.
const gcPercent = 25

func main() {
	debug.SetGCPercent(gcPercent)
	os.Exit(run(os.Stdin, os.Stdout, os.Stderr, os.Args[1:]))
}

// run is the whole program: args without the program's name, the exit code back.
// The first interrupt lets the photo in work end; the second ends the program at once.
func run(stdin io.Reader, stdout, stderr io.Writer, args []string) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop)

	streams := terminal.NewStreams(stdin, stdout, stderr)
	root := newRootCmd(streams)
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	streams.Report(err)
	return terminal.ExitCode(err)
}
