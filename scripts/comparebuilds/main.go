// Command comparebuilds holds two builds of the programs against each other: the
// same photos must give the same measurements, the same readings the same plans,
// the same machine the same photos. scripts/samenumbers builds and calls it.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
)

// Exit codes.
const (
	exitDiffer = 1
	exitFailed = 2
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	same, err := run(ctx, os.Stdout, os.Stderr, os.Args[1:])
	switch {
	case errors.Is(err, flag.ErrHelp):
	case err != nil:
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(exitFailed)
	case !same:
		os.Exit(exitDiffer)
	}
}

// options are what the command line says.
type options struct {
	old, new   string   // folders of programs
	fixtures   string   // program that makes sets of photos, for a build that has none of its own
	folders    []string // of photos, each with a truth.json
	seeds      []uint64 // a fresh set of photos each
	count      int      // photos in a set
	rehearsals int
	cache      string // folder, "": nothing is kept
}

// run compares and says whether all is the same.
func run(ctx context.Context, stdout, stderr io.Writer, args []string) (bool, error) {
	o, err := parse(stderr, args)
	if err != nil {
		return false, err
	}
	scratch, err := os.MkdirTemp("", "comparebuilds-")
	if err != nil {
		return false, err
	}
	defer os.RemoveAll(scratch)
	old, err := newBuild("old", o.old, o.fixtures)
	if err != nil {
		return false, err
	}
	new, err := newBuild("new", o.new, o.fixtures)
	if err != nil {
		return false, err
	}
	w := &work{scratch: scratch, store: store{o.cache}, progress: stderr}
	table, err := w.compare(ctx, o, old, new)
	if err != nil {
		return false, err
	}
	return table.write(stdout), nil
}

func parse(stderr io.Writer, args []string) (o options, err error) {
	flags := flag.NewFlagSet("comparebuilds", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.StringVar(&o.fixtures, "fixtures", "", "program that makes photos, for a build without its own")
	seeds := flags.String("seeds", "31,32", "seeds of the fresh sets of photos; empty: none")
	flags.IntVar(&o.count, "count", 150, "photos in each fresh set")
	flags.IntVar(&o.rehearsals, "rehearsals", 50, "simulated machines: fire, survey, plan, turn, and once more")
	flags.StringVar(&o.cache, "cache", "", "folder that keeps what each program gave, for the next run")
	flags.Func("photos", "folder of photos with a truth.json; may be given several times", func(folder string) error {
		o.folders = append(o.folders, folder)
		return nil
	})
	if err := flags.Parse(args); err != nil {
		return o, err
	}
	if flags.NArg() != 2 {
		return o, fmt.Errorf("two folders of programs are wanted, %d were given", flags.NArg())
	}
	if o.old, err = filepath.Abs(flags.Arg(0)); err != nil {
		return o, err
	}
	if o.new, err = filepath.Abs(flags.Arg(1)); err != nil {
		return o, err
	}
	for _, text := range strings.FieldsFunc(*seeds, func(r rune) bool { return r == ',' }) {
		seed, err := strconv.ParseUint(text, 10, 64)
		if err != nil {
			return o, fmt.Errorf("-seeds: %q is not a seed", text)
		}
		o.seeds = append(o.seeds, seed)
	}
	return o, nil
}
