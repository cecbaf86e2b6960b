package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"burngauge.dev/burngauge/pkg/disk"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// Files of a bench's folder.
const (
	stateName   = "bench.json"
	profileName = "machine.yaml" // a copy for whoever plans; changing it does not change the machine
)

// folder is a bench in its folder.
type folder struct {
	dir     string
	bench   *rehearsal.Bench
	profile []byte // the machine's YAML
}

// open reads a bench.
func open(dir string) (*folder, error) {
	file, err := os.Open(filepath.Join(dir, stateName))
	if errors.Is(err, fs.ErrNotExist) || isNoFolder(dir) {
		return nil, terminal.Usagef("rehearse new "+command.Quoted(dir), "%s is no bench: there is no %s in it", dir, stateName)
	}
	if err != nil {
		return nil, fmt.Errorf("read the bench: %w", err)
	}
	defer file.Close()
	bench, profile, err := rehearsal.Restore(file)
	if err != nil {
		return nil, terminal.Fail(terminal.ExitFailed, fmt.Errorf("%s: %w", file.Name(), err), "rehearse new ANOTHER-BENCH")
	}
	return &folder{dir, bench, profile}, nil
}

func isNoFolder(dir string) bool {
	info, err := os.Stat(dir)
	return err != nil || !info.IsDir()
}

// save writes the state whole or not at all, and onto the disk before it counts.
func (f *folder) save() error {
	err := terminal.WriteFile(filepath.Join(f.dir, stateName), func(w io.Writer) error {
		if err := f.bench.Save(w, f.profile); err != nil {
			return err
		}
		return synced(w)
	})
	if err != nil {
		return err
	}
	return syncFolder(f.dir)
}

// synced has what was written to a file put onto the disk.
func synced(w io.Writer) error {
	if file, ok := w.(interface{ Sync() error }); ok {
		return file.Sync()
	}
	return nil
}

// syncFolder makes a rename in a folder last. Systems that cannot sync a folder
// keep the rename without it.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return terminal.NotWritten(fmt.Errorf("writing %s: %w", dir, err))
	}
	defer d.Close()
	_ = d.Sync()
	return nil
}

// create makes the folder with everything in it, or nothing: it is filled under
// another name beside its place and then moved there.
func (f *folder) create() error {
	parent := filepath.Dir(filepath.Clean(f.dir))
	draft, err := os.MkdirTemp(parent, ".bench-*")
	if err != nil {
		return notMade(f.dir, err)
	}
	defer os.RemoveAll(draft) // finds nothing after the rename
	if err := os.Chmod(draft, 0o755); err != nil {
		return notMade(f.dir, err)
	}
	inside := &folder{draft, f.bench, f.profile}
	if err := inside.save(); err != nil {
		return err
	}
	err = terminal.WriteFile(filepath.Join(draft, profileName), func(w io.Writer) error {
		if _, err := w.Write(f.profile); err != nil {
			return err
		}
		return synced(w)
	})
	if err != nil {
		return err
	}
	if err := os.Rename(draft, filepath.Clean(f.dir)); err != nil {
		return notMade(f.dir, err)
	}
	return syncFolder(parent)
}

// notMade names the folder that was meant, not the draft.
func notMade(dir string, err error) error {
	return terminal.NotWritten(fmt.Errorf("making the bench %s: %w", dir, disk.Cause(err)))
}

// occupied reports whether there is something where a bench is to be made; an empty
// folder is free.
func occupied(dir string) bool {
	entries, err := os.ReadDir(dir)
	if err != nil {
		_, err = os.Lstat(dir)
		return err == nil
	}
	return len(entries) > 0
}
