// Package disk writes files whole or not at all: a full disk, a killed program
// or a cut of power leaves the older file, or none, and never half of the new
// one.
package disk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
)

// Write lets write fill the file at path, whole or not at all. A path that is
// no ordinary file, such as /dev/stdout or a pipe, is written to directly. The
// error may name the draft and not the path: see Cause. A program that is killed
// may leave a hidden draft behind.
func Write(path string, write func(io.Writer) error) error {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return into(path, write)
	}
	return Replace(path, func(draft string) error { return into(draft, write) })
}

// Replace is Write for writers that want a path: the draft lies beside the real
// file, empty, ends alike, and takes its place and its permissions when make
// succeeds.
func Replace(path string, make func(draft string) error) error {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real // a link stays a link
	}
	old, _ := os.Stat(path) // nil where there is none
	draft, err := newDraft(path, old)
	if err != nil {
		return err
	}
	defer os.Remove(draft) // finds nothing after the rename
	if err := make(draft); err != nil {
		return err
	}
	if err := finish(draft, old); err != nil {
		return err
	}
	return os.Rename(draft, path)
}

// newDraft makes an empty file that nobody may read who may not read the old
// one. It is hidden, in the same folder so that the rename stays within one file
// system, and keeps the extension, by which picture writers choose the format.
func newDraft(path string, old fs.FileInfo) (string, error) {
	const ownWrite = 0o200
	dir, base := filepath.Split(path)
	draft := filepath.Join(dir, fmt.Sprintf(".%016x.%s", rand.Uint64(), base))
	perm := fs.FileMode(0o666) // less the umask
	if old != nil {
		perm = old.Mode().Perm() | ownWrite
	}
	file, err := os.OpenFile(draft, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
	if err != nil {
		return "", err
	}
	return draft, file.Close()
}

// finish gives the draft the old file's permissions, and waits until the disk
// has it: it must have it before the rename, or a cut of power could leave an
// empty file.
func finish(draft string, old fs.FileInfo) error {
	file, err := os.OpenFile(draft, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	err = file.Sync()
	if old != nil && err == nil {
		err = permit(file, old.Mode().Perm())
	}
	return errors.Join(err, file.Close())
}

// permit leaves a file alone that has the permissions already: some file systems
// know none, and refuse to set them.
func permit(file *os.File, perm fs.FileMode) error {
	if info, err := file.Stat(); err != nil || info.Mode().Perm() == perm {
		return err
	}
	return file.Chmod(perm)
}

// into lets write fill a file that is there.
func into(path string, write func(io.Writer) error) error {
	file, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return errors.Join(write(file), file.Close())
}

// Cause drops the system's own naming of files from an error, for messages that
// name the file that was meant. Other errors, and nil, come back as they are.
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
