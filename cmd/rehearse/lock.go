package main

import (
	"context"
	"fmt"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"

	"burngauge.dev/burngauge/pkg/disk"
	"burngauge.dev/burngauge/pkg/terminal"
)

// lockName is the file that a command holds while it changes a bench. It is empty
// and stays: what counts is who holds it, and the system lets go for a process that died.
const lockName = "bench.lock"

// lockRetry is how often a held lock is tried again: soon to whoever waits, and
// nothing to the machine.
const lockRetry = 50 * time.Millisecond

// openToChange reads a bench that is about to be changed. Until release, other
// commands that would change it wait, so that no turn and no fire is lost.
func openToChange(ctx context.Context, streams terminal.Streams, dir string) (f *folder, release func(), err error) {
	if _, err := open(dir); err != nil { // no lock is laid where there is no bench
		return nil, nil, err
	}
	lock := flock.New(filepath.Join(dir, lockName), flock.SetPermissions(0o666))
	held, err := lock.TryLock()
	if err == nil && !held {
		streams.Note("another rehearse works on %s: waiting for it to end", dir)
		_, err = lock.TryLockContext(ctx, lockRetry)
	}
	if ctx.Err() != nil {
		_ = lock.Unlock()
		return nil, nil, ctx.Err()
	}
	if err != nil {
		return nil, nil, terminal.NotWritten(fmt.Errorf("locking the bench %s: %w", dir, disk.Cause(err)))
	}
	release = func() { _ = lock.Unlock() } // the process's end would do it too
	if f, err = open(dir); err != nil {    // as it is now: it may have changed meanwhile
		release()
		return nil, nil, err
	}
	return f, release, nil
}
