package raster

import (
	"runtime"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

// Each row is handed out once, also when one processor is much slower than the others.
func TestEachRowIsHandedOutOnce(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	for _, height := range []int{1, 15, 16, 63, 64, 129, 1000} {
		var mu sync.Mutex
		seen, slow := make([]int, height), true
		InRuns(height, func(next func() (from, to int, ok bool)) {
			mu.Lock()
			mine := slow
			slow = false
			mu.Unlock()
			for from, to, ok := next(); ok; from, to, ok = next() {
				mu.Lock()
				for y := from; y < to; y++ {
					seen[y]++
				}
				mu.Unlock()
				for range 200 {
					if mine {
						runtime.Gosched()
					}
				}
			}
		})
		for y, n := range seen {
			require.Equal(t, 1, n, "row %d of %d", y, height)
		}
	}
}
