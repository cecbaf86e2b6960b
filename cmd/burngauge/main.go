// Command burngauge measures laser burn marks in phone photos of ring targets.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"syscall"

	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/terminal"
)

func main() {
	// libjpeg and libpng talk to standard error by themselves; our own line about
	// a damaged file says it better. At worst theirs stands beside it.
	_ = photo.QuietLibraries()
	os.Exit(run(os.Stdin, os.Stdout, os.Stderr, os.Args[1:]))
}

// run is the whole program: args without the program's name, the exit code back.
//
// The first interrupt lets the photos in work end, so that no half file stays;
// the second ends the program at once.
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
