package photo

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Limits bound what one photo may cost. Both are checked before anything is
// decoded: Bytes from the file's size, Pixels from the picture's own header.
// Above either, the photo is refused as too large; below, memory is what it costs.
type Limits struct {
	Bytes  int64 // size of the file
	Pixels int64 // width times height; decoding takes three bytes of memory for each
}

// DefaultLimits admit the large settings of phones: 12000 x 9000 pixels, which
// decode to 324 MB, and files of 64 MiB, five bits for each of those pixels. A photo
// of 12 megapixels decodes to 36 MB.
func DefaultLimits() Limits {
	return Limits{Bytes: 64 << 20, Pixels: 120e6}
}

// Read decodes the JPEG, HEIC, AVIF or PNG file at path to an upright picture with its
// facts. The file is read once: the hash is of exactly the bytes decoded.
//
// Grey, palette, 10- to 16-bit and CMYK pictures come out as 8-bit blue, green, red;
// transparency is ignored: a pixel keeps the colour stored under it. Bytes
// after the picture's end are left alone, as phones append films and depth
// maps there. Every error is an *Error.
func Read(path string, limits Limits) (*Photo, error) {
	data, err := readBytes(path, limits.Bytes)
	if err != nil {
		return nil, err
	}
	head, err := inspect(data)
	// The limit comes first: of a picture that claims to be huge nothing else matters.
	if e := head.checkSize(limits.Pixels); e != nil {
		return nil, e
	}
	if err != nil {
		return nil, err
	}
	facts := readFacts(data, head.format)
	picture, err := decode(data, head, facts.Orientation)
	if err != nil {
		return nil, err
	}
	hash := sha256.Sum256(data)
	facts.File = filepath.Base(path)
	facts.SHA256 = hex.EncodeToString(hash[:])
	facts.Bytes = int64(len(data))
	facts.Width, facts.Height = picture.Width, picture.Height
	return &Photo{Facts: facts, Image: picture}, nil
}

// readBytes returns the whole file, never more than limit bytes of it.
func readBytes(path string, limit int64) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, cannotOpen(err)
	}
	if info.IsDir() {
		return nil, refuse(NotAnImage, nil, "this is a folder: name the photos in it")
	}
	if !info.Mode().IsRegular() { // opening a pipe could wait for ever
		return nil, refuse(NotAnImage, nil, "this is a pipe or a device: name a photo's file")
	}
	if info.Size() > limit {
		return nil, tooManyBytes(limit)
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, cannotOpen(err)
	}
	defer file.Close()
	return readAtMost(file, info.Size(), limit)
}

// readAtMost reads a file of about size bytes, which may still be growing.
func readAtMost(file io.Reader, size, limit int64) ([]byte, error) {
	var buffer bytes.Buffer
	buffer.Grow(int(size) + bytes.MinRead) // in one piece, without growing on the way
	n, err := buffer.ReadFrom(io.LimitReader(file, limit+1))
	switch {
	case err != nil:
		return nil, refuse(Truncated, err, "the file cannot be read to its end (%v): copy it from the phone again", cause(err))
	case n > limit:
		return nil, tooManyBytes(limit)
	case n == 0:
		return nil, refuse(Empty, nil, "the file is empty: copy the photo from the phone again")
	}
	return buffer.Bytes(), nil
}

func cannotOpen(err error) *Error {
	if errors.Is(err, fs.ErrNotExist) {
		return refuse(NotFound, err, "there is no such file: check its name and folder")
	}
	return refuse(NotFound, err, "the file cannot be opened (%v): check its name and who may read it", cause(err))
}

// cause is an operating system's reason without the operation and the path.
func cause(err error) error {
	if pathErr := (*fs.PathError)(nil); errors.As(err, &pathErr) {
		return pathErr.Err
	}
	return err
}

func tooManyBytes(limit int64) *Error {
	return refuse(TooLarge, nil, "the file is larger than %d MiB: save the photo as a JPEG, or smaller", limit>>20)
}
