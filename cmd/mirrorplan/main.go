// Command mirrorplan turns a survey's report into turns of the mirrors' screws.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"syscall"

	"burngauge.dev/burngauge/pkg/terminal"
)

func main() {
	os.Exit(run(os.Stdin, os.Stdout, os.Stderr, os.Args[1:]))
}

// run is the whole program: args without the program's name, the exit code back.
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
