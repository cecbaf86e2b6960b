package photo

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"

	"burngauge.dev/burngauge/pkg/needs"
)

// Files for the tests, made by Go's own encoders where they can, else by OpenCV's.

// scene is a smooth picture with some texture, no two corners alike.
func scene(width, height int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			grain := uint8((x*7919 + y*104729) % 23)
			m.SetRGBA(x, y, color.RGBA{uint8(40+150*x/width) + grain, uint8(200-150*y/height) + grain, uint8(60+90*(x+y)/(width+height)) + grain, 255})
		}
	}
	return m
}

func jpegOf(t testing.TB, m image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, m, &jpeg.Options{Quality: 95}))
	return out.Bytes()
}

func pngOf(t testing.TB, m image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, m))
	return out.Bytes()
}

// progressiveOf is a progressive JPEG; Go's encoder writes none.
func progressiveOf(t testing.TB, m image.Image) []byte {
	t.Helper()
	mat, err := gocv.ImageToMatRGB(m)
	require.NoError(t, err)
	defer mat.Close()
	buffer, err := gocv.IMEncodeWithParams(gocv.JPEGFileExt, mat, []int{gocv.IMWriteJpegProgressive, 1, gocv.IMWriteJpegQuality, 95})
	require.NoError(t, err)
	defer buffer.Close()
	return bytes.Clone(buffer.GetBytes())
}

func saved(t testing.TB, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, data, 0o644))
	return path
}

func readMade(t testing.TB, name string, data []byte) *Photo {
	t.Helper()
	got, err := Read(saved(t, name, data), DefaultLimits())
	require.NoError(t, err)
	require.Len(t, got.Pix, 3*got.Image.Width*got.Image.Height)
	return got
}

func chunk(kind string, body []byte) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	out = append(append(out, kind...), body...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
}

// exiftool runs the program, an EXIF reader and writer that shares no code with ours.
func exiftool(t testing.TB, args ...string) []byte {
	t.Helper()
	needs.Program(t, "exiftool", "libimage-exiftool-perl")
	out, err := exec.Command("exiftool", args...).CombinedOutput()
	require.NoError(t, err, string(out))
	return out
}
