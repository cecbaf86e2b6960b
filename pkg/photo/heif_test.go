package photo

import (
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// converted is what Debian's heif-convert makes of a file: the picture as
// stored in its PNG, without regard to the EXIF block it copies along.
func converted(t testing.TB, path string) image.Image {
	t.Helper()
	out := filepath.Join(t.TempDir(), "out.png")
	tool(t, "heif-convert", path, out)
	file, err := os.Open(out)
	require.NoError(t, err)
	defer file.Close()
	m, err := png.Decode(file)
	require.NoError(t, err)
	return m
}

// assertAsConverted holds every value against heif-convert's.
func assertAsConverted(t *testing.T, path string, what any) *Photo {
	t.Helper()
	want := converted(t, path)
	got, err := Read(path, DefaultLimits())
	require.NoError(t, err, what)
	size := want.Bounds().Size()
	require.Equal(t, size, image.Pt(got.Image.Width, got.Image.Height), what)
	require.Equal(t, size, image.Pt(got.Facts.Width, got.Facts.Height), what)
	for i := range size.X * size.Y {
		r, g, b := straight(want.At(i%size.X, i/size.X))
		require.Equal(t, []byte{b, g, r}, got.Pix[3*i:3*i+3], "%v at %d", what, i)
	}
	return got
}

func TestEveryTurnOfTheContainerIsAsConverted(t *testing.T) {
	const width, height = 70, 66 // below 64 heif-enc pads and crops
	data, err := os.ReadFile(heicOf(t, scene(width, height)))
	require.NoError(t, err)
	picture := codedIn(t, data)
	turns := map[string][]string{"none": nil}
	for axis := range byte(2) {
		turns[fmt.Sprint("mirror ", axis)] = []string{imir(axis)}
	}
	for quarters := range byte(4) {
		turns[fmt.Sprint("turn ", quarters)] = []string{irot(quarters)}
		for axis := range byte(2) {
			turns[fmt.Sprint("turn ", quarters, " mirror ", axis)] = []string{irot(quarters), imir(axis)}
			turns[fmt.Sprint("mirror ", axis, " turn ", quarters)] = []string{imir(axis), irot(quarters)}
		}
	}
	for name, boxes := range turns {
		properties := append([]string{picture.hvcC, ispe(width, height)}, boxes...)
		file := containerOf(1, item{kind: "hvc1", data: picture.data, properties: properties})
		assertAsConverted(t, saved(t, "a.heic", file), name)
	}
}

var _ = draw.Src
