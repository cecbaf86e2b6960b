package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"sync"
)

// sample is one piece of work that both builds do.
type sample struct {
	name     string
	input    string   // what, beside the programs, decides what comes out
	programs []string // those that it runs
	run      func(ctx context.Context, b *build, scratch string) ([]output, error)
}

// work does samples with both builds.
type work struct {
	scratch  string
	store    store
	progress io.Writer
}

// compare does everything that is asked for.
func (w *work) compare(ctx context.Context, o options, old, new *build) (*table, error) {
	t := newTable()
	folders := o.folders
	for _, seed := range o.seeds {
		set := set{seed: seed, count: o.count}
		folder, err := w.makeSet(ctx, set, old, new, t)
		if err != nil {
			return nil, err
		}
		folders = append(folders, folder)
	}
	var samples []sample
	for _, folder := range folders {
		more, err := measurements(folder)
		if err != nil {
			return nil, err
		}
		samples = append(samples, more...)
	}
	for i := range o.rehearsals {
		samples = append(samples, rehearsal(i))
	}
	return t, w.all(ctx, samples, [2]*build{old, new}, t)
}

// mostProcesses is how many programs run at a time.
const mostProcesses = 2

// linesEvery is after how many samples a line says how far it is.
const linesEvery = 10

// all does the samples, with both builds at the same time, and adds to the table.
func (w *work) all(ctx context.Context, samples []sample, builds [2]*build, t *table) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	given := make([][2][]output, len(samples))
	slots := make(chan struct{}, mostProcesses)
	var wait sync.WaitGroup
	for i, s := range samples {
		for side, b := range builds {
			slots <- struct{}{}
			wait.Go(func() {
				defer func() { <-slots }()
				list, err := w.one(ctx, s, b)
				if err != nil {
					stop(fmt.Errorf("%s: %w", s.name, err))
				}
				given[i][side] = list
			})
		}
		if (i+1)%linesEvery == 0 {
			fmt.Fprintf(w.progress, "%d of %d\n", i+1, len(samples))
		}
	}
	wait.Wait()
	if err := context.Cause(ctx); err != nil {
		return err
	}
	for i := range samples {
		if err := t.add(given[i][0], given[i][1]); err != nil {
			return err
		}
	}
	return nil
}

// one does one sample with one build, or takes what is kept of it.
func (w *work) one(ctx context.Context, s sample, b *build) ([]output, error) {
	if err := context.Cause(ctx); err != nil {
		return nil, err
	}
	hashes, err := b.hashes(s.programs...)
	if err != nil {
		return nil, err
	}
	key := hashes + s.input
	if list, kept := w.store.get(key); kept {
		return list, nil
	}
	scratch, err := os.MkdirTemp(w.scratch, "sample-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(scratch)
	list, err := s.run(ctx, b, scratch)
	if err != nil {
		return nil, err
	}
	return list, w.store.put(key, list)
}
