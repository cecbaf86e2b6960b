// Command figures prints the figures by which the source is judged, one line for
// each package:
//
//		go run ./scripts/figures [ROOT]
//
//	  - code: lines that are neither blank nor comment alone;
//	  - comment: the share of lines of comment alone among these and the code;
//	  - constants: named numbers;
//	  - decimals: numbers with a point or an exponent inside functions, and how many of
//	    these have no comment on their line or above it. Constants and functions that give
//	    settings do not count, as a number has its name there, nor does 0.0, where a sum
//	    starts;
//	  - methods: of the type that has most;
//	  - median, p90, longest: lines of a function, from "func" to "}".
//
// Tests are left out.
package main

import (
	"cmp"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"
)

func main() {
	flag.Usage = func() { fmt.Fprintln(os.Stderr, "Usage: go run ./scripts/figures [ROOT]") }
	flag.Parse()
	root := cmp.Or(flag.Arg(0), ".")
	if err := run(os.Stdout, root); err != nil {
		fmt.Fprintln(os.Stderr, "figures:", err)
		os.Exit(1)
	}
}

// run prints the table of a source tree.
func run(w io.Writer, root string) error {
	packages, err := read(root)
	if err != nil {
		return err
	}
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(table, "code\tcomment\tconstants\tdecimals\twithout\tmethods\tmedian\tp90\tlongest\t  package\t")
	total := figures{folder: "all"}
	for _, p := range packages {
		fmt.Fprintln(table, p.row())
		total.add(p)
	}
	fmt.Fprintln(table, total.row())
	if err := table.Flush(); err != nil {
		return fmt.Errorf("writing the table: %w", err)
	}
	for _, book := range []string{"README.md", "DEVELOPERS.md"} {
		text, err := os.ReadFile(filepath.Join(root, book))
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "%s: %d lines\n", book, strings.Count(string(text), "\n"))
	}
	return nil
}

// read gathers the figures of every package below a folder, by folder.
func read(root string) ([]*figures, error) {
	found := map[string]*figures{}
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		switch name := entry.Name(); {
		case entry.IsDir() && path != root && (strings.HasPrefix(name, ".") || name == "testdata"):
			return filepath.SkipDir
		case entry.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go"):
			return nil
		}
		folder, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		p := found[folder]
		if p == nil {
			p = &figures{folder: folder, methods: map[string]int{}}
			found[folder] = p
		}
		return p.readFile(path)
	})
	list := make([]*figures, 0, len(found))
	for _, p := range found {
		list = append(list, p)
	}
	slices.SortFunc(list, func(a, b *figures) int { return cmp.Compare(a.folder, b.folder) })
	return list, err
}
