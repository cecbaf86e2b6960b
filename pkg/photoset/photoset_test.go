package photoset

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestASpecFileInTheFolderOverridesABuiltIn(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "shop.yaml"), nil, 0o644))
	assert.Equal(t, filepath.Join(dir, "shop.yaml"), Target(dir, "shop"))
	assert.Equal(t, filepath.Join(dir, "shop.yaml"), Target(dir, "shop.yaml"))
	assert.Equal(t, "plain-4", Target(dir, "plain-4"))
}

func TestTruthThatWouldBeLeftOutIsAnError(t *testing.T) {
	for text, want := range map[string]string{
		`{"photos":[]}`: "lists no photos",
		`{"photos":[{"photo":"a.jpg","expect":"maybe","mark":"burn"}]}`:                    "expect is",
		`{"photos":[{"photo":"a.jpg","expect":"measure","mark":"dot"}]}`:                   "mark is",
		`{"photos":[{"photo":"a.jpg","expect":"measure","mark":"burn"}]}`:                  "states none",
		`{"photos":[{"photo":"a.jpg","expect":"either","mark":"burn","refusal":"glare"}]}`: "names the refusal glare",
	} {
		dir := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(dir, "truth.json"), []byte(text), 0o644))
		_, err := Read(dir)
		assert.ErrorContains(t, err, want)
	}
}
