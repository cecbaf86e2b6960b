package main

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestInOrderHoldsTheOrderWhateverTheJobsTake(t *testing.T) {
	const n = 40
	slowFirst := func(i int) int {
		time.Sleep(time.Duration((n-i)%7) * time.Millisecond)
		return i * i
	}
	var got []int
	require.NoError(t, inOrder(context.Background(), n, 4, slowFirst, func(i, r int) error {
		assert.Equal(t, i*i, r)
		got = append(got, i)
		return nil
	}))
	require.Len(t, got, n)
	assert.IsIncreasing(t, got)
}

func TestInOrderTakesEachResultAsSoonAsItsTurnComes(t *testing.T) {
	release := make(chan struct{})
	job := func(i int) int {
		if i == 1 {
			<-release // ends only because result 0 was taken
		}
		return i
	}
	require.NoError(t, inOrder(context.Background(), 2, 2, job, func(i, _ int) error {
		if i == 0 {
			close(release)
		}
		return nil
	}))
}

func TestInOrderRunsNoMoreJobsAtOnceThanWorkers(t *testing.T) {
	var now, most atomic.Int32
	job := func(int) int {
		n := now.Add(1)
		for m := most.Load(); n > m && !most.CompareAndSwap(m, n); m = most.Load() {
		}
		time.Sleep(time.Millisecond)
		now.Add(-1)
		return 0
	}
	require.NoError(t, inOrder(context.Background(), 30, 3, job, func(int, int) error { return nil }))
	assert.LessOrEqual(t, most.Load(), int32(3))
}

func TestInOrderWaitsForTheJobsInWorkWhenInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	var started, ended atomic.Int32
	job := func(int) int {
		if started.Add(1) == 3 {
			cancel()
		}
		time.Sleep(5 * time.Millisecond)
		ended.Add(1)
		return 0
	}
	err := inOrder(ctx, 1000, 2, job, func(int, int) error { return nil })
	require.ErrorIs(t, err, context.Canceled)
	assert.Equal(t, started.Load(), ended.Load(), "a job was left behind")
	assert.Less(t, started.Load(), int32(10))
}

func TestInOrderEndsWhenAResultCannotBeTaken(t *testing.T) {
	full := errors.New("disk full")
	var started atomic.Int32
	job := func(int) int { started.Add(1); time.Sleep(time.Millisecond); return 0 }
	err := inOrder(context.Background(), 1000, 2, job, func(int, int) error { return full })
	require.ErrorIs(t, err, full)
	assert.Less(t, started.Load(), int32(10))
}
