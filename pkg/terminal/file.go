package terminal

import (
	"fmt"
	"io"

	"burngauge.dev/burngauge/pkg/disk"
)

// WriteFile is disk.Write: the file at path whole or not at all. Errors name
// the path and carry ExitNotWritten.
func WriteFile(path string, write func(io.Writer) error) error {
	return notWritten(path, disk.Write(path, write))
}

// Replace is WriteFile for writers that want a path: see disk.Replace.
func Replace(path string, make func(draft string) error) error {
	return notWritten(path, disk.Replace(path, make))
}

// notWritten names the file that was meant, not the draft that the cause names.
func notWritten(path string, err error) error {
	if err == nil {
		return nil
	}
	return NotWritten(fmt.Errorf("writing %s: %w", path, disk.Cause(err)))
}
