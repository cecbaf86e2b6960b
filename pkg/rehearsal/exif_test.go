package rehearsal

import (
	"bytes"
	"encoding/json"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/needs"
)

// Stored rows [1 2 3; 4 5 6] and what each orientation makes of them,
// by hand from the EXIF table (row 0 / column 0 sides).
func TestOrientationTable(t *testing.T) {
	want := map[int][][]int{
		1: {{1, 2, 3}, {4, 5, 6}}, 2: {{3, 2, 1}, {6, 5, 4}}, 3: {{6, 5, 4}, {3, 2, 1}}, 4: {{4, 5, 6}, {1, 2, 3}},
		5: {{1, 4}, {2, 5}, {3, 6}}, 6: {{4, 1}, {5, 2}, {6, 3}}, 7: {{6, 3}, {5, 2}, {4, 1}}, 8: {{3, 6}, {2, 5}, {1, 4}},
	}
	for o := 1; o <= 8; o++ {
		for i := range 6 {
			ux, uy := Upright(o, i%3, i/3, 3, 2)
			assert.Equal(t, i+1, want[o][uy][ux], "orientation %d", o)
		}
	}
}

func TestStoreIsUndoneByUpright(t *testing.T) {
	upright := image.NewRGBA(image.Rect(0, 0, 3, 2))
	for i := range 6 {
		upright.SetRGBA(i%3, i/3, color.RGBA{R: uint8(10 * i), A: 255})
	}
	for o := 1; o <= 8; o++ {
		stored := Store(upright, o)
		w, h := stored.Rect.Dx(), stored.Rect.Dy()
		for y := range h {
			for x := range w {
				ux, uy := Upright(o, x, y, w, h)
				assert.Equal(t, upright.RGBAAt(ux, uy), stored.RGBAAt(x, y), "orientation %d", o)
			}
		}
	}
}

// exiftool, written by others, reads back what was written, in both byte orders.
func TestExiftoolReadsOurBlock(t *testing.T) {
	needs.Program(t, "exiftool", "libimage-exiftool-perl")
	for _, big := range []bool{false, true} {
		meta := EXIF{Make: "Halden", Model: "H4", Orientation: 7, Taken: "2026:03:04 15:16:17", Offset: "-05:00", Focal35: 28, BigEndian: big}
		tags := readBack(t, &meta)
		assert.Equal(t, "Halden", tags["Make"])
		assert.Equal(t, "H4", tags["Model"])
		assert.EqualValues(t, 7, tags["Orientation"])
		assert.Equal(t, "2026:03:04 15:16:17", tags["DateTimeOriginal"])
		assert.Equal(t, "-05:00", tags["OffsetTimeOriginal"])
		assert.EqualValues(t, 28, tags["FocalLengthIn35mmFormat"])
		assert.EqualValues(t, 2, tags["ImageWidth"])
		assert.EqualValues(t, 3, tags["ImageHeight"])
		assert.NotContains(t, tags, "Warning")
	}
}

func readBack(t *testing.T, meta *EXIF) map[string]any {
	t.Helper()
	body, err := EncodeJPEG(image.NewRGBA(image.Rect(0, 0, 3, 2)), meta, 90)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "a.jpg")
	require.NoError(t, os.WriteFile(file, body, 0o600))
	out, err := exec.Command("exiftool", "-json", "-n", file).Output()
	require.NoError(t, err)
	var list []map[string]any
	require.NoError(t, json.Unmarshal(out, &list))
	require.Len(t, list, 1)
	return list[0]
}

func TestStrippedPhotoHasNoBlock(t *testing.T) {
	body, err := EncodeJPEG(image.NewRGBA(image.Rect(0, 0, 16, 8)), nil, 80)
	require.NoError(t, err)
	assert.NotContains(t, string(body), "Exif\x00\x00")
	_, err = jpeg.Decode(bytes.NewReader(body))
	assert.NoError(t, err)
}
