package terminal

import (
	"fmt"
	"io"
	"strings"
)

// clearLine moves to the line's start and empties it (ECMA-48: CR, EL).
const clearLine = "\r\x1b[K"

// Progress counts work on one line of a terminal that is written over, and
// says nothing where a line cannot be. It is for one goroutine.
type Progress struct {
	w     io.Writer
	what  string
	total int
	shown bool
}

// Progress starts counting total things, named in the plural: "photos".
// A single thing is not counted.
func (s Streams) Progress(what string, total int) *Progress {
	p := &Progress{what: what, total: total}
	if s.ErrTerminal && total > 1 {
		p.w = s.Err
	}
	return p
}

// Done says that n of the total are done.
func (p *Progress) Done(n int) {
	if p.w == nil {
		return
	}
	p.shown = true
	fmt.Fprintf(p.w, "%s%s %d of %d %s", clearLine, bar(n, p.total), n, p.total, p.what)
}

// barCells is the bar's length: with the count beside it, it fits on the
// narrowest usual terminal of 40 cells.
const barCells = 16

// bar is n of total as a length.
func bar(n, total int) string {
	full := min(n*barCells/total, barCells)
	return "[" + strings.Repeat("#", full) + strings.Repeat(".", barCells-full) + "]"
}

// Clear empties the line, before other output and at the end.
func (p *Progress) Clear() {
	if p.w != nil && p.shown {
		fmt.Fprint(p.w, clearLine)
		p.shown = false
	}
}
