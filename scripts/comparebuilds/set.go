package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"sync"
)

// set is a fresh set of photos.
type set struct {
	seed  uint64
	count int
}

// name of the set's folder, which no other program's set has in the cache.
func (s set) name(programHash string) string {
	return fmt.Sprintf("seed-%d-count-%d-%.12s", s.seed, s.count, programHash)
}

// makeSet makes a set to measure, by the old build's program when it has one, and
// compares it with the new one's when that is another program.
func (w *work) makeSet(ctx context.Context, s set, old, new *build, t *table) (string, error) {
	makers := []*build{}
	for _, b := range []*build{old, new} {
		if b.path[fixtures] != "" && (len(makers) == 0 || makers[0].hash[fixtures] != b.hash[fixtures]) {
			makers = append(makers, b)
		}
	}
	if len(makers) == 0 {
		return "", fmt.Errorf("neither build has the program %s: give -fixtures, or -seeds \"\"", fixtures)
	}
	folders := make([]string, len(makers))
	errs := make([]error, len(makers))
	var wait sync.WaitGroup
	for i, b := range makers {
		wait.Go(func() { folders[i], errs[i] = w.draw(ctx, s, b) })
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return "", err
		}
	}
	if len(makers) == 1 {
		return folders[0], nil
	}
	var given [2][]output
	for i, folder := range folders {
		var err error
		given[i], err = fired(folder, fmt.Sprintf("seed %d", s.seed), kindPhotos, kindTruths)
		if err != nil {
			return "", err
		}
	}
	return folders[0], t.add(given[0], given[1])
}

// draw makes the set's photos, or takes those that are kept.
func (w *work) draw(ctx context.Context, s set, b *build) (string, error) {
	parent := w.scratch
	if w.store.folder != "" {
		parent = w.store.folder
	}
	folder := filepath.Join(parent, s.name(b.hash[fixtures]))
	if _, err := os.Stat(folder); err == nil {
		return folder, nil
	}
	if err := os.MkdirAll(parent, 0o777); err != nil {
		return "", err
	}
	draft, err := os.MkdirTemp(parent, ".draft-")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(draft)
	_, code, err := b.call(ctx, draft, fixtures, "-seed", fmt.Sprint(s.seed), "-count", fmt.Sprint(s.count), "-o", draft)
	if err == nil && code != 0 {
		err = fmt.Errorf("%s of the %s build ended with code %d", fixtures, b.side, code)
	}
	if err != nil {
		return "", err
	}
	if err := os.Rename(draft, folder); err != nil && !os.IsExist(err) {
		return "", err
	}
	return folder, nil
}
