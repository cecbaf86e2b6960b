package survey

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// photoEndings are those of files that people take for photos. Not every kind
// can be measured: one that cannot is reported as unreadable, and not passed over.
var photoEndings = []string{
	".jpg", ".jpeg", ".jpe", ".jfif", ".png", ".heic", ".heif", ".hif",
	".avif", ".webp", ".tif", ".tiff", ".gif", ".bmp", ".dng",
}

// overlayEnding is that of the pictures burngauge draws itself, which may lie in
// the same folder.
const overlayEnding = ".overlay.jpg"

// isPhoto knows a photo by its ending.
func isPhoto(name string) bool {
	return slices.Contains(photoEndings, strings.ToLower(filepath.Ext(name)))
}

// IsPhoto reports whether a file of this name in a surveyed folder is taken for a
// photo. Hidden files, those that begin with ~ as some programs name what they
// are still writing, and the overlays that burngauge drew are not.
func IsPhoto(name string) bool {
	hidden := strings.HasPrefix(name, ".") || strings.HasPrefix(name, "~")
	return isPhoto(name) && !hidden && !strings.HasSuffix(strings.ToLower(name), overlayEnding)
}

// Photos lists the names of the photos in the folder, sorted by byte. Whatever is
// no photo by its ending is passed over, and so are sub-folders.
func Photos(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder) // sorted by name
	if err != nil {
		return nil, err
	}
	var list []string
	for _, e := range entries {
		if IsPhoto(e.Name()) && !isFolder(folder, e) {
			list = append(list, e.Name())
		}
	}
	return list, nil
}

// isFolder follows links; one that leads nowhere is no folder, and is listed so
// that it is reported.
func isFolder(folder string, e os.DirEntry) bool {
	if e.Type()&os.ModeSymlink == 0 {
		return e.IsDir()
	}
	info, err := os.Stat(filepath.Join(folder, e.Name()))
	return err == nil && info.IsDir()
}
