package command

import (
	"context"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/terminal"
)

// Program is a whole program but for the process: its standard streams, and args
// without its name.
type Program struct {
	In       io.Reader
	Out, Err io.Writer
	Args     []string
}

// Run runs the program, reports what fails, and returns the exit code. The first
// interrupt lets the work in hand end, so that no half file stays; the second ends
// the process at once.
func (p Program) Run(newRoot func(terminal.Streams) *cobra.Command) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop)

	streams := terminal.NewStreams(p.In, p.Out, p.Err)
	root := newRoot(streams)
	root.SetArgs(p.Args)
	err := root.ExecuteContext(ctx)
	streams.Report(err)
	return terminal.ExitCode(err)
}
