package main

import (
	"context"
	"sync"
)

// inOrder does n jobs in up to workers goroutines and gives each result to
// take, in the calling goroutine, in the order of the jobs and as soon as it
// and all before it are done.
//
// When take fails or ctx ends, no further job starts; inOrder returns that
// error after the jobs in work have ended.
func inOrder[T any](ctx context.Context, n, workers int, job func(i int) T, take func(i int, result T) error) error {
	results := make([]chan T, n)
	for i := range results {
		results[i] = make(chan T, 1) // a worker never waits for take
	}
	ctx, stop := context.WithCancel(ctx)
	var busy sync.WaitGroup
	defer busy.Wait()
	defer stop()

	next := make(chan int)
	busy.Go(func() { feed(ctx, n, next) })
	for range min(workers, n) {
		busy.Go(func() {
			for i := range next {
				results[i] <- job(i)
			}
		})
	}
	for i := range results {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case result := <-results[i]:
			if err := take(i, result); err != nil {
				return err
			}
		}
	}
	return nil
}

// feed hands out the jobs until they are all given or ctx ends.
func feed(ctx context.Context, n int, next chan<- int) {
	defer close(next)
	for i := range n {
		if ctx.Err() != nil {
			return
		}
		select {
		case <-ctx.Done():
			return
		case next <- i:
		}
	}
}
