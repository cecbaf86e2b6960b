// Command accuracytable measures the photos of a folder and holds the result
// against the folder's truth.json. scripts/accuracy builds and calls it.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"

	"burngauge.dev/burngauge/pkg/photoset"
)

func main() {
	ok, err := run(os.Stdout, os.Args[1:])
	if err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
	if !ok {
		os.Exit(1)
	}
}

// run prints the table and says whether every row reaches its bound.
func run(stdout io.Writer, args []string) (bool, error) {
	flags := flag.NewFlagSet("accuracytable", flag.ExitOnError)
	bin := flags.String("bin", "burngauge", "burngauge to test")
	decode := flags.String("decode", "decodeonly", "program that only decodes")
	verbose := flags.Bool("v", false, "one line per mark")
	speed := flags.Bool("speed", true, "time and memory of a 12-megapixel photo")
	list := flags.Bool("batches", false, "measure nothing: print target, mark and photos of each call that is needed")
	flags.Parse(args)
	if flags.NArg() != 1 {
		return false, fmt.Errorf("one folder is wanted, %d were given", flags.NArg())
	}
	folder := flags.Arg(0)
	photos, err := photoset.Read(folder)
	if err != nil {
		return false, err
	}
	if *list {
		writeBatches(stdout, photoset.Batches(folder, photos))
		return true, nil
	}
	all, err := measureAll(*bin, folder, photos)
	if err != nil {
		return false, err
	}
	rows := overall(all)
	if *speed {
		more, err := speedRows(*bin, *decode, folder, photos)
		if err != nil {
			return false, err
		}
		rows = append(rows, more...)
	}
	if *verbose {
		writeMarks(stdout, all)
		fmt.Fprintln(stdout)
	}
	writeRows(stdout, rows)
	fmt.Fprintln(stdout)
	writeCategories(stdout, all)
	fmt.Fprintln(stdout)
	writeFaults(stdout, all)
	return !failed(rows), nil
}
