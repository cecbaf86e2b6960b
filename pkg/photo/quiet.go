package photo

import (
	"fmt"
	"os"
	"runtime/debug"
	"syscall"
)

// QuietLibraries keeps the picture libraries' own remarks, such as libjpeg's
// "Corrupt JPEG data", off the terminal: Read says the same in a sentence. They
// write to file descriptor 2 directly, so that is pointed at the null device,
// and os.Stderr moves to a copy of what it was; crashes are still reported
// there. A command calls it once, first of all, before it hands out os.Stderr.
func QuietLibraries() error {
	const stderr = 2
	kept, err := syscall.Dup(stderr)
	if err != nil {
		return fmt.Errorf("copying standard error: %w", err)
	}
	syscall.CloseOnExec(kept)
	null, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	if err != nil {
		return fmt.Errorf("quieting the picture libraries: %w", err)
	}
	defer null.Close()
	out := os.NewFile(uintptr(kept), os.Stderr.Name())
	if err := debug.SetCrashOutput(out, debug.CrashOptions{}); err != nil {
		return fmt.Errorf("keeping crash reports on standard error: %w", err)
	}
	if err := syscall.Dup3(int(null.Fd()), stderr, 0); err != nil {
		return fmt.Errorf("quieting the picture libraries: %w", err)
	}
	os.Stderr = out
	return nil
}
