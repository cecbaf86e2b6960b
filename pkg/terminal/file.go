package terminal

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
)

// WriteFile writes the file at path whole or not at all: what write fails
// half way through leaves no file behind, and an older file stays. A path that
// is not an ordinary file, such as /dev/stdout or a pipe, is written to
// directly. Errors carry ExitNotWritten.
func WriteFile(path string, write func(io.Writer) error) error {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return notWritten(path, writeInto(path, os.O_WRONLY, write))
	}
	return Replace(path, func(draft string) error {
		return writeInto(draft, os.O_WRONLY|os.O_CREATE|os.O_EXCL, write)
	})
}

// Replace is WriteFile for writers that want a path: draft lies beside the
// real file, ends alike, and is moved into its place when make succeeds.
func Replace(path string, make func(draft string) error) error {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real // a link stays a link
	}
	draft := draftName(path)
	defer os.Remove(draft) // finds nothing after the rename
	if err := make(draft); err != nil {
		return notWritten(path, err)
	}
	return notWritten(path, os.Rename(draft, path))
}

// draftName is hidden, in the same folder so that the rename stays within one
// file system, and keeps the extension, by which picture writers choose the
// format.
func draftName(path string) string {
	dir, base := filepath.Split(path)
	return filepath.Join(dir, fmt.Sprintf(".%016x.%s", rand.Uint64(), base))
}

// writeInto opens the file and lets write fill it.
func writeInto(path string, flags int, write func(io.Writer) error) error {
	file, err := os.OpenFile(path, flags, 0o666)
	if err != nil {
		return err
	}
	return errors.Join(write(file), file.Close())
}

// notWritten names the file that was meant, not the draft that the cause names.
func notWritten(path string, err error) error {
	if err == nil {
		return nil
	}
	return NotWritten(fmt.Errorf("writing %s: %w", path, Cause(err)))
}

// Cause drops the system's own naming of files from an error, for messages that
// name the file that was meant. Other errors come back as they are.
func Cause(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}
