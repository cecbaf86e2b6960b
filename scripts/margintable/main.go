// Command margintable measures photos whose truth is known, collects every decision
// with the truth beside it, and prints how far each limit lies from the cases that
// it separates. scripts/margins builds and calls it.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"

	"burngauge.dev/burngauge/pkg/disk"
	"burngauge.dev/burngauge/pkg/photoset"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, os.Stdout, os.Stderr, os.Args[1:]); err != nil && !errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

// options are what the command line says.
type options struct {
	bin     string
	csv     string // file, "": none
	only    string // limits whose name has this in it
	folders []string
}

func run(ctx context.Context, stdout, stderr io.Writer, args []string) error {
	o, err := parse(stderr, args)
	if err != nil {
		return err
	}
	var cases []limitCase
	for _, folder := range o.folders {
		photos, err := photoset.Read(folder)
		if err != nil {
			return err
		}
		more, err := collect(ctx, o.bin, folder, photos)
		if err != nil {
			return err
		}
		cases = append(cases, more...)
	}
	limits := summarize(cases)
	kept := limits[:0]
	for _, l := range limits {
		if strings.Contains(l.name, o.only) {
			kept = append(kept, l)
		}
	}
	if err := writeTable(stdout, kept); err != nil || o.csv == "" {
		return err
	}
	return disk.Write(o.csv, func(w io.Writer) error { return writeCSV(w, kept) })
}

func parse(stderr io.Writer, args []string) (o options, err error) {
	flags := flag.NewFlagSet("margintable", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.StringVar(&o.bin, "bin", "burngauge", "burngauge to ask")
	flags.StringVar(&o.csv, "csv", "", "also write the table to this file")
	flags.StringVar(&o.only, "only", "", "only limits whose name has this in it")
	if err := flags.Parse(args); err != nil {
		return o, err
	}
	if o.folders = flags.Args(); len(o.folders) == 0 {
		return o, errors.New("no folder of photos was given")
	}
	return o, nil
}
