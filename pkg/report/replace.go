package report

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
)

// replace puts data at the path by way of a draft in the same folder, so that
// the rename stays within one file system. The draft is on the disk before it
// takes the old file's name; otherwise a power cut could leave an empty file.
func replace(path string, data []byte) (err error) {
	perm := fs.FileMode(0o666) // less the umask
	if info, err := os.Stat(path); err == nil {
		if !info.Mode().IsRegular() {
			return fill(path, os.O_WRONLY, perm, data)
		}
		perm = info.Mode().Perm()
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real // a link stays a link
	}
	dir, base := filepath.Split(path)
	draft := filepath.Join(dir, fmt.Sprintf(".%s.%016x", base, rand.Uint64()))
	if err := fill(draft, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm, data); err != nil {
		return errors.Join(err, ignoreMissing(os.Remove(draft)))
	}
	if err := os.Rename(draft, path); err != nil {
		return errors.Join(err, ignoreMissing(os.Remove(draft)))
	}
	return nil
}

func ignoreMissing(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// fill writes data and, to an ordinary file, waits until the disk has it.
func fill(path string, flags int, perm fs.FileMode, data []byte) error {
	file, err := os.OpenFile(path, flags, perm)
	if err != nil {
		return err
	}
	_, err = file.Write(data)
	if err == nil && flags&os.O_CREATE != 0 {
		err = file.Sync()
	}
	return errors.Join(err, file.Close())
}
