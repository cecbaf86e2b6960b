package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/disk"
	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/rehearsal/fire"
	"burngauge.dev/burngauge/pkg/target"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// fireOptions are what the command line of `rehearse fire` says.
type fireOptions struct {
	streams terminal.Streams
	photo   fire.Options

	bench, dir     string
	stations       []string // empty: all
	exposure       string
	target         string // built-in name or file
	truth, replace bool
}

// newFireCmd is `rehearse fire`.
func newFireCmd(streams terminal.Streams) *cobra.Command {
	o := &fireOptions{streams: streams, photo: fire.DefaultOptions()}
	cmd := &cobra.Command{
		Use:   "fire BENCH -o DIR",
		Short: "Fire a mark at each station and photograph it",
		Long: `Fire a mark at each station of the simulated machine, on fresh tape, and write a photo
of each into DIR, named after its station. The names of the photos go to standard output.

The same machine and the same flags give the same bytes; once a screw has been turned,
tape, hand and light are others.

` + reminder,
		Example: `  rehearse fire bench -o round-1
  rehearse fire bench -o corner --stations rear-left,middle --exposure faint
  rehearse fire bench -o exam --pointer --truth --megapixels 3`,
		Args: command.One("bench", "rehearse fire BENCH -o round-1"),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.bench = args[0]
			return runFire(cmd.Context(), o)
		},
	}
	o.flags(cmd)
	return cmd
}

func (o *fireOptions) flags(cmd *cobra.Command) {
	o.exposure = string(o.photo.Exposure)
	flags := cmd.Flags()
	flags.StringVarP(&o.dir, "output", "o", "", "write the photos into the folder `DIR`")
	flags.StringSliceVar(&o.stations, "stations", nil, "fire only at these stations: `a,b,c`")
	command.ChoiceFlag(cmd, &o.exposure, "exposure", "length of the pulse", words(fire.Exposures)...)
	flags.Var(command.Number{To: &o.photo.Megapixels, Least: 1, Most: 12, What: "megapixels"}, "megapixels", "size of the photos, 1 to 12")
	flags.BoolVar(&o.photo.Pointer, "pointer", false, "the red pointer is switched on while the photo is taken")
	o.target = target.DefaultName
	flags.Var(command.Name{To: &o.target, Kind: "NAME|FILE"}, "target", "target in the head: a built-in one or a spec file")
	flags.BoolVar(&o.truth, "truth", false, "write truth.json beside the photos: where the marks really are")
	flags.BoolVar(&o.replace, "replace", false, "replace photos of an earlier fire")
	command.Complete(cmd, "stations", completeStations)
	command.Complete(cmd, "target", cobra.FixedCompletions(target.Names(), cobra.ShellCompDirectiveDefault))
	command.Complete(cmd, "megapixels", cobra.NoFileCompletions)
	if err := cmd.MarkFlagDirname("output"); err != nil {
		panic(err) // the flag does not exist: a programmer's error
	}
}

// completeStations offers the stations of the bench that is named.
func completeStations(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	f, err := open(args[0])
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return stationNames(f.bench.Profile), cobra.ShellCompDirectiveNoFileComp
}

func stationNames(p machine.Profile) []string {
	var names []string
	for _, s := range p.Stations {
		names = append(names, s.Name)
	}
	return names
}

// runFire takes the photos, then the truth, and last keeps in the bench that it fired.
func runFire(ctx context.Context, o *fireOptions) error {
	if o.dir == "" {
		return terminal.Usagef("rehearse fire "+command.Quoted(o.bench)+" -o round-1", "no folder for the photos: give -o DIR")
	}
	f, release, err := openToChange(ctx, o.streams, o.bench)
	if err != nil {
		return err
	}
	defer release()
	stations, err := o.chosen(f.bench)
	if err != nil {
		return err
	}
	if err := o.settle(); err != nil {
		return err
	}
	if err := o.prepare(stations); err != nil {
		return err
	}
	o.streams.Note("%s", reminder)
	truths, err := o.takePhotos(ctx, f.bench, stations)
	if err != nil {
		return err
	}
	if o.truth {
		if err := o.writeTruth(truths); err != nil {
			return err
		}
	}
	f.bench.NoteFire(stations)
	if err := f.save(); err != nil {
		return err
	}
	o.streams.Note("round %d fired; next: %s", f.bench.Round(), o.next(f.bench, stations))
	return nil
}

// next is the command that measures what was fired: a survey of the folder, or the
// one photo.
func (o *fireOptions) next(b *rehearsal.Bench, stations []string) string {
	line := "burngauge survey " + command.Quoted(o.dir)
	if len(stations) == 1 {
		line = "burngauge measure " + command.Quoted(o.path(stations[0]))
	}
	if o.target != target.DefaultName {
		line += " --target " + command.Quoted(o.target)
	}
	if o.photo.Pointer {
		line += " --mark both"
	}
	if len(stations) == 1 {
		return line
	}
	if all := stationNames(b.Profile); !slices.Equal(all, stationNames(machine.Default())) {
		line += " --stations " + strings.Join(all, ",") // a survey expects the usual five
	}
	return line + " -o " + command.Quoted(filepath.Join(o.dir, "report.json"))
}

// chosen are the stations to fire at, in the profile's order.
func (o *fireOptions) chosen(b *rehearsal.Bench) ([]string, error) {
	all := stationNames(b.Profile)
	if len(o.stations) == 0 {
		return all, nil
	}
	for _, name := range o.stations {
		if !slices.Contains(all, name) {
			return nil, terminal.Usagef("rehearse fire "+command.Quoted(o.bench)+" -o "+command.Quoted(o.dir)+" --stations "+all[0],
				"there is no station %q: the machine has %s", name, strings.Join(all, ", "))
		}
	}
	return slices.DeleteFunc(all, func(name string) bool { return !slices.Contains(o.stations, name) }), nil
}

// settle reads the target.
func (o *fireOptions) settle() error {
	spec, err := target.Load(o.target)
	if err != nil {
		return terminal.Fail(terminal.ExitUsage, err, "rehearse fire --help")
	}
	o.photo.Exposure = fire.Exposure(o.exposure)
	o.photo.Target, o.photo.Ask = spec, o.target
	if _, builtin := target.Builtin(o.target); !builtin {
		o.photo.Ask = filepath.Base(o.target) // a copy of it goes beside the truth
	}
	return nil
}

// prepare makes the folder and looks that no earlier photo would be lost.
func (o *fireOptions) prepare(stations []string) error {
	if err := os.MkdirAll(o.dir, 0o777); err != nil {
		return terminal.NotWritten(fmt.Errorf("making the folder %s: %w", o.dir, disk.Cause(err)))
	}
	if o.replace {
		return nil
	}
	for _, s := range stations {
		path := o.path(s)
		if _, err := os.Lstat(path); err == nil {
			return terminal.Fail(terminal.ExitNotWritten, fmt.Errorf("%s is there already", path), "name another folder with -o, or give --replace")
		}
	}
	return nil
}

func (o *fireOptions) path(station string) string { return filepath.Join(o.dir, station+".jpg") }
