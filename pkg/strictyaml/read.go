package strictyaml

import (
	"errors"
	"io"
	"os"

	"burngauge.dev/burngauge/pkg/disk"
)

// ErrFolder says that a folder was named where a file was meant.
var ErrFolder = errors.New("this is a folder: name the file in it")

// ReadFile reads a file to one byte past the limit, which Decode then refuses.
// Its errors do not name the file, which the caller does: fs.ErrNotExist, other
// causes of an *fs.PathError, or ErrFolder.
func (r Rules) ReadFile(path string) ([]byte, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, disk.Cause(err)
	}
	defer file.Close()
	if info, err := file.Stat(); err == nil && info.IsDir() {
		return nil, ErrFolder
	}
	data, err := io.ReadAll(io.LimitReader(file, int64(r.MaxBytes)+1))
	return data, disk.Cause(err)
}
