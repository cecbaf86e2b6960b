package survey

import (
	"context"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var start = time.Date(2026, 9, 2, 9, 0, 0, 0, time.UTC)

func seen(size int64) []Seen { return []Seen{{"a.jpg", size, start}} }

func TestAFileIsReadyOnceItHasSettled(t *testing.T) {
	l := newLanding()
	ready, _ := l.look(start, seen(1))
	assert.Empty(t, ready)
	ready, _ = l.look(start.Add(Settle-1), seen(2)) // it grew
	assert.Empty(t, ready)
	ready, _ = l.look(start.Add(2*Settle-2), seen(2))
	assert.Empty(t, ready)
	ready, _ = l.look(start.Add(2*Settle-1), seen(2))
	assert.Equal(t, []Ready{{"a.jpg", false}}, ready)
	assert.True(t, l.waiting())
	l.settle("a.jpg", true)
	assert.False(t, l.waiting())
	ready, _ = l.look(start.Add(time.Hour), seen(2))
	assert.Empty(t, ready, "measured once")
}

func TestAHalfFileIsWaitedForUntilItChangesOrPatienceEnds(t *testing.T) {
	l := newLanding()
	l.look(start, seen(1))
	ready, _ := l.look(start.Add(Settle), seen(1))
	require.Len(t, ready, 1)
	l.settle("a.jpg", false)
	ready, _ = l.look(start.Add(Patience-1), seen(1))
	assert.Empty(t, ready, "as it was: nothing new to see")
	l.look(start.Add(Patience), seen(5)) // it grew in time
	ready, _ = l.look(start.Add(Patience+Settle), seen(5))
	assert.Equal(t, []Ready{{"a.jpg", false}}, ready)
	l.settle("a.jpg", false)
	ready, _ = l.look(start.Add(2*Patience), seen(5))
	assert.Equal(t, []Ready{{"a.jpg", true}}, ready)
	l.settle("a.jpg", true)
	ready, _ = l.look(start.Add(3*Patience), seen(5))
	assert.Empty(t, ready)
}

func TestAFileThatChangesIsMeasuredAgainAndOneThatGoesIsNamed(t *testing.T) {
	l := newLanding()
	l.look(start, seen(1))
	l.look(start.Add(Settle), seen(1))
	l.settle("a.jpg", true)
	l.look(start.Add(Patience), []Seen{{"a.jpg", 1, start.Add(1)}}) // the time alone
	ready, _ := l.look(start.Add(2*Patience), []Seen{{"a.jpg", 1, start.Add(1)}})
	assert.Len(t, ready, 1)
	_, gone := l.look(start.Add(3*Patience), nil)
	assert.Equal(t, []string{"a.jpg"}, gone)
	_, gone = l.look(start.Add(3*Patience), nil)
	assert.Empty(t, gone)
}

// folderLog is what a watched folder reported, in its order.
type folderLog struct {
	sync.Mutex
	lines []string
}

func (f *folderLog) add(line string) {
	f.Lock()
	defer f.Unlock()
	f.lines = append(f.lines, line)
}

func (f *folderLog) get() []string {
	f.Lock()
	defer f.Unlock()
	return append([]string(nil), f.lines...)
}

// A watched folder on the real file system: there before, written in pieces,
// renamed into place, removed.
func TestWatchNamesWhatLandsInAFolder(t *testing.T) {
	dir := t.TempDir()
	path := func(name string) string { return filepath.Join(dir, name) }
	write := func(name, text string) { require.NoError(t, os.WriteFile(path(name), []byte(text), 0o644)) }
	write("before.jpg", "whole")
	var log folderLog
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() {
		ended <- Watch(ctx, dir, Watcher{
			Measure: func(_ context.Context, ready []Ready, whole func(string, bool)) error {
				for _, r := range ready {
					data, _ := os.ReadFile(path(r.Name))
					is := string(data) == "whole"
					whole(r.Name, is)
					if is {
						log.add(r.Name)
					}
				}
				return nil
			},
			Gone: func(names []string) error { log.add("gone " + names[0]); return nil },
		})
	}()
	comes := func(want ...string) {
		t.Helper()
		require.Eventually(t, func() bool { return len(log.get()) >= len(want) }, 20*time.Second, 10*time.Millisecond)
		require.Equal(t, want, log.get())
	}
	comes("before.jpg")
	write("half.jpg", "who")
	write("phone.jpg.part", "whole")
	write(".hidden.jpg", "whole")
	require.NoError(t, os.Rename(path("phone.jpg.part"), path("phone.jpg")))
	comes("before.jpg", "phone.jpg")
	write("half.jpg", "whole")
	comes("before.jpg", "phone.jpg", "half.jpg")
	require.NoError(t, os.Remove(path("before.jpg")))
	comes("before.jpg", "phone.jpg", "half.jpg", "gone before.jpg")
	stop()
	require.NoError(t, <-ended)
}

func TestWithoutNoticesTheFolderIsLookedAtAllTheSame(t *testing.T) {
	n := listen(filepath.Join(t.TempDir(), "missing"))
	assert.Nil(t, n.watcher)
	assert.True(t, n.wait(context.Background(), true))
	ctx, stop := context.WithCancel(context.Background())
	stop()
	assert.False(t, n.wait(ctx, false))
}

func TestAFolderThatIsGoneEndsTheWatch(t *testing.T) {
	err := Watch(context.Background(), filepath.Join(t.TempDir(), "missing"), Watcher{})
	assert.ErrorIs(t, err, os.ErrNotExist)
}
