package strictyaml

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestReadFileStopsOneByteBeyondTheLimit(t *testing.T) {
	rules := Rules{What: "box", MaxBytes: 10, Depth: 1}
	path := filepath.Join(t.TempDir(), "box.yaml")
	require.NoError(t, os.WriteFile(path, make([]byte, 100), 0o644))
	data, err := rules.ReadFile(path)
	require.NoError(t, err)
	require.Len(t, data, 11)
	_, err = Decode(data, rules, &struct{}{})
	assert.ErrorContains(t, err, "over 0 KB: this is not a box")
}

func TestReadFileSaysWhyWithoutThePath(t *testing.T) {
	folder := t.TempDir()
	_, err := Rules{MaxBytes: 10}.ReadFile(folder)
	assert.ErrorIs(t, err, ErrFolder)
	_, err = Rules{MaxBytes: 10}.ReadFile(filepath.Join(folder, "none.yaml"))
	assert.ErrorIs(t, err, fs.ErrNotExist)
	assert.NotContains(t, err.Error(), folder)
}
