package rehearsal

import (
	"runtime"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/machine"
)

// Each row is handed out once, also when one processor is much slower than the others.
func TestEachRowIsHandedOutOnce(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	for _, height := range []int{1, 15, 16, 63, 64, 129, 1000} {
		var mu sync.Mutex
		seen, slow := make([]int, height), true
		inRuns(height, func(next func() (from, to int, ok bool)) {
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

// Row by row, straight into the stored place: the same as rendering a whole picture,
// developing that and storing it afterwards.
func TestShootingIsRenderingDevelopingAndStoring(t *testing.T) {
	b, err := NewBench(machine.Default(), 2, Easy)
	require.NoError(t, err)
	s := b.pose(0, small())
	for _, change := range []func(*Develop){
		func(d *Develop) { d.Mosaic, d.MotionPX, d.DefocusPX = true, 2.5, 1.7 },
		func(d *Develop) { d.Mosaic, d.Sharpen, d.SharpenPX = false, 0, 0 },
	} {
		change(&s.develop)
		upright := s.develop.Photo(RenderQuickly(&s.scene, &s.cam))
		for _, orientation := range []int{1, 3, 6, 8} {
			want, got := Store(upright, orientation), s.develop.shoot(&s.scene, &s.cam, orientation)
			require.Equal(t, want.Rect, got.Rect)
			require.True(t, string(want.Pix) == string(got.Pix), "orientation %d", orientation)
			release(got) // the next one is written over it
		}
	}
}

// Smooth cells are a short cut: pixel by pixel the same light comes out, to the last bit.
func TestSmoothCellsAreThoseThatNeedNoMoreLooks(t *testing.T) {
	b, err := NewBench(machine.Default(), 2, Easy)
	require.NoError(t, err)
	s := b.pose(1, small())
	for _, odd := range []int{0, 1} {
		s.cam.Width, s.cam.Height = s.cam.Width|odd, s.cam.Height|odd
		r := newQuickRenderer(&s.scene, &s.cam)
		require.True(t, r.sparse)
		quick, slow, want, smooth := newCells(r), newCells(r), newLine(r.width), 0
		for y := range r.height {
			got := quick.row(y)
			if y&1 == 0 {
				slow.descend(y)
			}
			for x := range r.width {
				r.pixel(want, x, y, [4]*RGB{slow.corner(x, y), slow.corner(x+1, y), slow.corner(x, y+1), slow.corner(x+1, y+1)})
				if x+2 <= r.width && x&1 == 0 && quick.smooth(x) {
					smooth++
				}
			}
			require.Equal(t, want, got, "row %d", y)
		}
		assert.Greater(t, smooth, r.width*r.height/8, "else nothing is short")
	}
}
