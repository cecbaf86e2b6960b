package main

import (
	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// version of the programs; a release build sets it with
// -ldflags "-X main.version=...".
var version = "0.1.0-dev"

// newRootCmd is `rehearse` with everything below it.
func newRootCmd(streams terminal.Streams) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "rehearse",
		Short: "A simulated laser machine to practise aligning on",
		Long: `rehearse simulates a flatbed laser machine whose mirrors are out of line. It fires
test marks, photographs them as a phone would, and takes the turns of its screws; what
is wrong with it stays hidden until you ask. Nothing is fired: it is a simulation. It
replaces neither the maker's instructions nor training on a real machine, and its dirt,
heat and accidents are left out (rehearse help safety).

One bench is one simulated machine, in one folder.`,
		Example: `  rehearse new bench
  rehearse fire bench -o round-1
  burngauge survey round-1 -o round-1/report.json
  mirrorplan plan round-1/report.json --machine bench/machine.yaml -o plan.json
  rehearse turn bench plan.json
  rehearse fire bench -o round-2
  rehearse show bench --reveal`,
		Version: command.Version("rehearse", version),
	}
	command.Root(cmd, streams)
	cmd.AddCommand(newNewCmd(streams), newFireCmd(streams), newTurnCmd(streams), newShowCmd(streams))
	cmd.AddCommand(
		&cobra.Command{Use: "safety", Short: "What to know before you fire or turn screws on a real machine", Long: safetyText},
		&cobra.Command{Use: "exit-codes", Short: "What the exit codes mean", Long: exitCodesText},
	)
	return cmd
}
