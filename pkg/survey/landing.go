package survey

import "time"

// How long a photo is waited for in a watched folder.
const (
	// Settle is how long a file's size and time must stay as they are before it
	// is looked into: copies write many times a second.
	Settle = 400 * time.Millisecond
	// Patience is how long a file that is cut off, empty or no picture yet may
	// stay as it is before that is taken for its last state. Copies over a weak
	// network pause for seconds.
	Patience = 10 * time.Second
)

// Seen is a file as it was found in the folder.
type Seen struct {
	Name    string
	Size    int64
	Changed time.Time // as the file system says; only compared, never with the clock
}

// Ready is a photo to be measured now.
type Ready struct {
	Name string
	Last bool // it has been waited for long enough: take it as it is
}

// landing keeps account of the files in a watched folder: which are still being
// written, which are measured. Its clock is the caller's.
type landing struct {
	files map[string]*landed
}

type landed struct {
	seen  Seen
	since time.Time // when it was first seen as it is
	tried bool      // found cut off as it is: wait for a change or for Patience
	done  bool
}

func newLanding() *landing { return &landing{map[string]*landed{}} }

// look takes what is in the folder now. It gives the photos to measure, in the
// order found, and those measured before that are there no more.
func (l *landing) look(now time.Time, found []Seen) (ready []Ready, gone []string) {
	there := map[string]bool{}
	for _, seen := range found {
		there[seen.Name] = true
		file := l.files[seen.Name]
		if file == nil || file.seen.Size != seen.Size || !file.seen.Changed.Equal(seen.Changed) {
			file = &landed{seen: seen, since: now}
			l.files[seen.Name] = file
		}
		if r, ok := file.ready(now); ok {
			ready = append(ready, r)
		}
	}
	for name := range l.files {
		if !there[name] {
			gone = append(gone, name)
			delete(l.files, name)
		}
	}
	return ready, sorted(gone)
}

func (f *landed) ready(now time.Time) (Ready, bool) {
	rested := now.Sub(f.since)
	last := rested >= Patience
	return Ready{f.seen.Name, last}, !f.done && rested >= Settle && (!f.tried || last)
}

// settle notes what came of a photo that was ready: whole, or to be waited for.
func (l *landing) settle(name string, whole bool) {
	if file := l.files[name]; file != nil {
		file.tried, file.done = true, whole
	}
}

// waiting reports whether a file is not measured yet.
func (l *landing) waiting() bool {
	for _, file := range l.files {
		if !file.done {
			return true
		}
	}
	return false
}
