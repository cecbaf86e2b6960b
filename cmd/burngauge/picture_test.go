package main

import (
	"flag"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "make the README's picture anew")

const (
	pictured      = "fixtures/photos/clean.jpg"
	pictureTarget = "fixtures/photos/plain-4.yaml"
	picture       = "fixtures/pictures/clean.overlay.jpg"
)

func decoded(t *testing.T, path string) image.Image {
	t.Helper()
	file, err := os.Open(path)
	require.NoError(t, err)
	defer file.Close()
	out, err := jpeg.Decode(file)
	require.NoError(t, err)
	return out
}

// mostApart is how far a level of two pictures may differ. Another processor may
// round a pixel otherwise; another digit differs by most of the range.
const mostApart = 48

// The README's picture is the overlay of the photo that its text measures, and the
// words for those who do not see it have the same numbers. With -update it is made
// anew.
func TestTheReadmesPictureIsOfTheSameMeasurement(t *testing.T) {
	folder := t.TempDir()
	row, talk, code := call("measure", "--overlay", folder, "--target", filepath.Join(top, pictureTarget), filepath.Join(top, pictured))
	require.Zero(t, code, talk)
	drawn, kept := filepath.Join(folder, filepath.Base(picture)), filepath.Join(top, picture)
	if *update {
		data, err := os.ReadFile(drawn)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(kept, data, 0o644))
	}
	want, got := decoded(t, drawn), decoded(t, kept)
	require.Equal(t, want.Bounds(), got.Bounds())
	different := 0
	for y := range want.Bounds().Dy() {
		for x := range want.Bounds().Dx() {
			if apart(want, got, x, y) > mostApart {
				different++
			}
		}
	}
	assert.Zero(t, different, "pixels that differ: go test ./cmd/burngauge -run ReadmesPicture -update")

	document, err := os.ReadFile(filepath.Join(top, "README.md"))
	require.NoError(t, err)
	numbers := regexp.MustCompile(`clean\.jpg +burn +([\d.]+) (right|left) +([\d.]+) (up|down) +([\d.]+) ± [\d.]+ +([\d:]+)`).FindStringSubmatch(row)
	require.NotNil(t, numbers, row)
	assert.Contains(t, string(document), fmt.Sprintf("burn %s mm %s, %s mm %s, %s mm at %s,",
		numbers[1], numbers[2], numbers[3], numbers[4], numbers[5], numbers[6]), "the picture's words")
}

// apart is the largest difference of two pixels' levels, of 255.
func apart(a, b image.Image, x, y int) int {
	ar, ag, ab, _ := a.At(x, y).RGBA()
	br, bg, bb, _ := b.At(x, y).RGBA()
	most := 0
	for _, pair := range [][2]uint32{{ar, br}, {ag, bg}, {ab, bb}} {
		d := int(pair[0]>>8) - int(pair[1]>>8)
		most = max(most, d, -d)
	}
	return most
}
