package survey

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/fsnotify/fsnotify"
)

// Times between two looks into a watched folder.
const (
	pollWaiting = Settle / 2             // while a file is being written
	pollEvents  = 5 * time.Second        // when the system reports changes: for those it loses, as network folders do
	pollAlone   = time.Second            // when it does not
	atMostEvery = 100 * time.Millisecond // a copy makes hundreds of changes a second
)

// Watcher is what is done about a watched folder's photos. Both are called from
// the goroutine that called Watch, one at a time.
type Watcher struct {
	// Measure is given the photos that are there to be measured, and says by
	// whole what came of each: false for one that is cut off, empty or no picture
	// yet. That one is waited for, unless it is Last.
	Measure func(ctx context.Context, ready []Ready, whole func(name string, whole bool)) error
	// Gone is given photos that were there and are no more.
	Gone func(names []string) error
}

// Watch looks after the folder until ctx ends, which is no error. It measures
// the photos that are there, each that lands later, and again each that changes.
// A file that is still being written, or was only half copied, is waited for;
// one that appears under its final name by a rename is taken then.
//
// The system's notices of changes only wake it early: every look goes over the
// whole folder, so that a lost notice, and a file system without any, cost time
// but no photo.
func Watch(ctx context.Context, folder string, w Watcher) error {
	notices := listen(folder)
	defer notices.close()
	files := newLanding()
	for {
		if err := w.round(ctx, folder, files); err != nil {
			if ctx.Err() != nil {
				return nil
			}
			return err
		}
		if !notices.wait(ctx, files.waiting()) {
			return nil
		}
	}
}

// round is one look with what follows from it.
func (w Watcher) round(ctx context.Context, folder string, files *landing) error {
	found, err := look(folder)
	if err != nil {
		return err
	}
	ready, gone := files.look(time.Now(), found)
	if len(gone) > 0 {
		if err := w.Gone(gone); err != nil {
			return err
		}
	}
	if len(ready) == 0 {
		return nil
	}
	return w.Measure(ctx, ready, files.settle)
}

// look lists the photos with their size and time. One that goes away between
// the two steps is left out.
func look(folder string) (found []Seen, err error) {
	names, err := Photos(folder)
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		info, err := os.Stat(filepath.Join(folder, name))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		seen := Seen{Name: name}
		if err == nil {
			seen.Size, seen.Changed = info.Size(), info.ModTime()
		}
		found = append(found, seen)
	}
	return found, nil
}

// notices are the system's about a folder; without events, polling is all.
type notices struct {
	watcher *fsnotify.Watcher // nil: none
	events  <-chan fsnotify.Event
	errors  <-chan error
}

// listen asks the system for notices. Failure is no error: some file systems
// have none, and the number of folders a user may watch is limited.
func listen(folder string) *notices {
	watcher, err := fsnotify.NewWatcher()
	if err != nil {
		return &notices{}
	}
	if err := watcher.Add(folder); err != nil {
		_ = watcher.Close()
		return &notices{}
	}
	return &notices{watcher, watcher.Events, watcher.Errors}
}

func (n *notices) close() {
	if n.watcher != nil {
		_ = n.watcher.Close()
	}
}

// wait returns when it is time for another look, or false when ctx has ended.
func (n *notices) wait(ctx context.Context, waiting bool) bool {
	pause := pollAlone
	switch {
	case waiting:
		pause = pollWaiting
	case n.watcher != nil:
		pause = pollEvents
	}
	select {
	case <-ctx.Done():
		return false
	case <-time.After(atMostEvery):
	}
	timer := time.NewTimer(pause - atMostEvery)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return false
	case <-timer.C:
	case <-n.events:
	case <-n.errors: // notices were lost: look
	}
	return true
}
