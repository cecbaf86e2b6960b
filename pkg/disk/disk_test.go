package disk_test

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/disk"
)

// text writes a text.
func text(s string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
}

func content(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(data)
}

// names are those of the files in a folder, hidden ones too.
func names(t *testing.T, dir string) (out []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, entry := range entries {
		out = append(out, entry.Name())
	}
	return out
}

func TestAWriteThatFailsLeavesTheOldFileOrNone(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "sheet.svg")
	dry := errors.New("the pen ran dry")
	half := func(w io.Writer) error { return errors.Join(text("half")(w), dry) }
	assert.ErrorIs(t, disk.Write(path, half), dry)
	assert.Empty(t, names(t, dir))
	require.NoError(t, disk.Write(path, text("old")))
	assert.ErrorIs(t, disk.Write(path, half), dry)
	assert.Equal(t, "old", content(t, path))
	assert.Equal(t, []string{"sheet.svg"}, names(t, dir))
}

// A file that others may not read stays so, its drafts too; one that is
// protected against writing is replaced and stays protected. What the umask
// takes from new files it does not take from old ones.
func TestAnOldFileKeepsItsPermissions(t *testing.T) {
	defer syscall.Umask(syscall.Umask(0o022))
	for _, perm := range []fs.FileMode{0o600, 0o640, 0o444, 0o666, 0o755} {
		path := filepath.Join(t.TempDir(), "report.json")
		require.NoError(t, os.WriteFile(path, []byte("old"), 0o600))
		require.NoError(t, os.Chmod(path, perm))
		require.NoError(t, disk.Replace(path, func(draft string) error {
			info, err := os.Stat(draft)
			require.NoError(t, err)
			assert.Zero(t, info.Mode().Perm()&^(perm|0o200), "the draft of %v", perm)
			return os.WriteFile(draft, []byte("new"), 0o666)
		}))
		info, err := os.Stat(path)
		require.NoError(t, err)
		assert.Equal(t, perm, info.Mode().Perm())
		assert.Equal(t, "new", content(t, path))
	}
}

func TestANewFileHasThePermissionsOfTheUmask(t *testing.T) {
	defer syscall.Umask(syscall.Umask(0o027))
	path := filepath.Join(t.TempDir(), "report.json")
	require.NoError(t, disk.Write(path, text("new")))
	info, err := os.Stat(path)
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o640), info.Mode().Perm())
}

func TestALinkStaysALink(t *testing.T) {
	dir := t.TempDir()
	real, link := filepath.Join(dir, "real.svg"), filepath.Join(dir, "link.svg")
	require.NoError(t, os.WriteFile(real, []byte("old"), 0o644))
	require.NoError(t, os.Symlink("real.svg", link))
	require.NoError(t, disk.Write(link, text("new")))
	info, err := os.Lstat(link)
	require.NoError(t, err)
	assert.Equal(t, fs.ModeSymlink, info.Mode().Type())
	assert.Equal(t, "new", content(t, real))
	assert.Equal(t, []string{"link.svg", "real.svg"}, names(t, dir))
}

func TestADeviceIsWrittenToAndNotReplaced(t *testing.T) {
	require.NoError(t, disk.Write(os.DevNull, text("x")))
	info, err := os.Stat(os.DevNull)
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&os.ModeDevice)
}

func TestDraftsKeepTheExtension(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.overlay.jpg")
	var draft string
	require.NoError(t, disk.Replace(path, func(d string) error {
		draft = d
		return os.WriteFile(d, []byte("x"), 0o644)
	}))
	assert.Equal(t, ".jpg", filepath.Ext(draft))
	assert.Equal(t, ".", filepath.Base(draft)[:1], "hidden")
	assert.Equal(t, filepath.Dir(path), filepath.Dir(draft))
	assert.Equal(t, "x", content(t, path))
}

func TestTheCauseOfAFailureNamesNoFile(t *testing.T) {
	dir := t.TempDir()
	for path, says := range map[string]error{
		filepath.Join(dir, "no", "a.svg"): syscall.ENOENT,
		dir:                               syscall.EISDIR,
	} {
		err := disk.Write(path, text("x"))
		assert.Contains(t, err.Error(), dir)
		assert.Equal(t, says, disk.Cause(err))
	}
	assert.Equal(t, io.ErrClosedPipe, disk.Cause(io.ErrClosedPipe))
	assert.NoError(t, disk.Cause(nil))
	assert.Empty(t, names(t, dir))
}
