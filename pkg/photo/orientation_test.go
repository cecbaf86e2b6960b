package photo

import (
	"fmt"
	"image"
	"image/color"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"
)

// uprightOf gives, for each EXIF orientation, the rows one must see when the
// rows [1 2 3; 4 5 6] are stored: worked by hand from the meaning of row 0 and
// column 0 in the EXIF tag 0x0112.
var uprightOf = map[int][][]int{
	1: {{1, 2, 3}, {4, 5, 6}},
	2: {{3, 2, 1}, {6, 5, 4}},
	3: {{6, 5, 4}, {3, 2, 1}},
	4: {{4, 5, 6}, {1, 2, 3}},
	5: {{1, 4}, {2, 5}, {3, 6}},
	6: {{4, 1}, {5, 2}, {6, 3}},
	7: {{6, 3}, {5, 2}, {4, 1}},
	8: {{3, 6}, {2, 5}, {1, 4}},
}

const greyStep = 40 // between the six values: far more than a JPEG's error

func sixValues() *image.Gray {
	m := image.NewGray(image.Rect(0, 0, 3, 2))
	for i := range 6 {
		m.SetGray(i%3, i/3, color.Gray{uint8(greyStep * (i + 1))})
	}
	return m
}

func TestEveryOrientationIsUndone(t *testing.T) {
	for name, data := range map[string][]byte{"six.jpg": jpegOf(t, sixValues()), "six.png": pngOf(t, sixValues())} {
		for orientation, rows := range uprightOf {
			t.Run(fmt.Sprint(name, orientation), func(t *testing.T) {
				path := saved(t, name, data)
				exiftool(t, "-q", "-q", "-overwrite_original", fmt.Sprintf("-Orientation#=%d", orientation), path)
				got, err := Read(path, DefaultLimits())
				require.NoError(t, err)
				assert.Equal(t, orientation, got.Orientation)
				assert.Equal(t, len(rows[0]), got.Facts.Width)
				assert.Equal(t, len(rows), got.Facts.Height)
				assert.Equal(t, rows, values(got.Image))
			})
		}
	}
}

// values reads the picture back in steps.
func values(m Image) [][]int {
	rows := make([][]int, m.Height)
	for y := range rows {
		for x := range m.Width {
			rows[y] = append(rows[y], (int(m.Pix[3*(y*m.Width+x)])+greyStep/2)/greyStep)
		}
	}
	return rows
}

// OpenCV turns by EXIF too, with code of its own: the two must agree in every byte.
func TestUprightEqualsOpenCVsOwnTurning(t *testing.T) {
	data := jpegOf(t, scene(61, 47))
	for orientation := range uprightOf {
		path := saved(t, "scene.jpg", data)
		exiftool(t, "-q", "-overwrite_original", fmt.Sprintf("-Orientation#=%d", orientation), path)
		got, err := Read(path, DefaultLimits())
		require.NoError(t, err)
		want := gocv.IMRead(path, gocv.IMReadColor)
		defer want.Close()
		require.Equal(t, want.Cols(), got.Image.Width)
		assert.Equal(t, want.ToBytes(), got.Pix, "orientation %d", orientation)
	}
}

func TestOrientationOutOfRangeCountsAsNone(t *testing.T) {
	for _, value := range []any{uint16(0), uint16(9), int32(-1), "six", nil} {
		assert.Equal(t, 1, orientation(map[string]any{"Orientation": value}))
	}
}

// The thumbnail may be stored otherwise than the photo.
func TestThumbnailsOrientationIsNotThePhotos(t *testing.T) {
	path := saved(t, "six.jpg", jpegOf(t, sixValues()))
	thumbnail := saved(t, "thumbnail.jpg", jpegOf(t, sixValues()))
	exiftool(t, "-q", "-overwrite_original", "-Model=X", "-ThumbnailImage<="+thumbnail, "-IFD1:Orientation#=8", path)
	require.Contains(t, string(exiftool(t, "-G1", "-n", "-Orientation", path)), "8")
	got, err := Read(path, DefaultLimits())
	require.NoError(t, err)
	assert.Equal(t, 1, got.Orientation)
	assert.Equal(t, uprightOf[1], values(got.Image))
}
