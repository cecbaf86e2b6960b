package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// room is a package counted by hand: 20 lines of code, 4 of comment; three named numbers; 0.25, 1e-3 and 0.5 in functions, 0.5 alone without a comment; two methods of
// box, one of bag; functions of 3, 1, 1, 1, 7 and 1 lines.
const room = `// Package room is for tests.
package room

const (
	most  = 3
	least = 0.1 // of most
	name  = "x"
)

type box struct{ v float64 }

/* A block
   of comment. */
func (b *box) half() float64 {
	return b.v * 0.25 // a quarter: no half at all
}
func (b box) whole() float64 { return b.v }
func (b bag[T]) whole() T    { return b.v }

type bag[T any] struct{ v T }

func DefaultSettings() Settings { return Settings{0.75} }

func sum(v float64) float64 {
	const offset = 0.125
	// Small.
	w := v + 1e-3 + 0.0

	return w + offset + 0.5
}
func none() int { return 1 }
`

func TestAPackageIsCountedByHand(t *testing.T) {
	root := t.TempDir()
	write := func(name, text string) {
		path := filepath.Join(root, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	write("pkg/room/room.go", room)
	write("pkg/room/room_test.go", "package room\n\nconst inTests = 1\n")
	write("pkg/room/testdata/x.go", "not Go")
	write("README.md", "a\nb\n")
	write("DEVELOPERS.md", "a\n")
	var out bytes.Buffer
	require.NoError(t, run(&out, root))
	lines := strings.Split(out.String(), "\n")
	want := "20 17 % 3 3 1 2 1 7 7"
	assert.Equal(t, strings.Fields(want+" pkg/room"), strings.Fields(lines[1]))
	assert.Equal(t, strings.Fields(want+" all"), strings.Fields(lines[2]))
	assert.Equal(t, []string{"README.md: 2 lines", "DEVELOPERS.md: 1 lines"}, lines[3:5])
}

func TestASourceThatIsNoGoIsAnError(t *testing.T) {
	root := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(root, "a.go"), []byte("no Go"), 0o644))
	assert.ErrorContains(t, run(new(bytes.Buffer), root), "a.go")
}
