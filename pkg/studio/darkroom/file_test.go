package darkroom

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
	"burngauge.dev/burngauge/pkg/studio/exif"
)

// The upright picture [1 2 3; 4 5 6] as each orientation has it stored, by hand from
// the sides that Exif 2.32, section 4.6.4 (tag Orientation) gives to the stored row 0 and
// column 0: 6, for one, has row 0 at the scene's right and column 0 at its top, so the first
// stored row is the right column read downward, 3 6.
func TestPixelsAreStoredAsTheOrientationSays(t *testing.T) {
	want := map[int][][]uint8{
		0: {{1, 2, 3}, {4, 5, 6}}, 1: {{1, 2, 3}, {4, 5, 6}}, 2: {{3, 2, 1}, {6, 5, 4}}, 3: {{6, 5, 4}, {3, 2, 1}}, 4: {{4, 5, 6}, {1, 2, 3}},
		5: {{1, 4}, {2, 5}, {3, 6}}, 6: {{3, 6}, {2, 5}, {1, 4}}, 7: {{6, 3}, {5, 2}, {4, 1}}, 8: {{4, 1}, {5, 2}, {6, 3}},
	}
	upright := image.NewRGBA(image.Rect(0, 0, 3, 2))
	for i := range 6 {
		upright.SetRGBA(i%3, i/3, color.RGBA{R: uint8(i + 1), A: 255})
	}
	for o, rows := range want {
		stored := Store(upright, o)
		require.Equal(t, image.Pt(len(rows[0]), len(rows)), stored.Rect.Size(), "orientation %d", o)
		for y, row := range rows {
			for x, v := range row {
				assert.Equal(t, v, stored.RGBAAt(x, y).R, "orientation %d, column %d, row %d", o, x, y)
			}
		}
	}
}

// exiftool reads back what was written, in both byte orders.
func TestExiftoolReadsOurBlock(t *testing.T) {
	needs.Program(t, "exiftool", "libimage-exiftool-perl")
	for _, big := range []bool{false, true} {
		meta := exif.Block{Make: "Halden", Model: "H4", Orientation: 7, Taken: "2026:03:04 15:16:17", Offset: "-05:00", Focal35: 28, BigEndian: big}
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

func readBack(t *testing.T, meta *exif.Block) map[string]any {
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
