package photo

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// converted is what Debian's heif-convert makes of a file: the picture as
// stored in its PNG, without regard to the EXIF block it copies along.
func converted(t testing.TB, path string) image.Image {
	t.Helper()
	out := filepath.Join(t.TempDir(), "out.png")
	tool(t, "heif-convert", path, out)
	return readPNG(t, out)
}

func readPNG(t testing.TB, path string) image.Image {
	t.Helper()
	file, err := os.Open(path)
	require.NoError(t, err)
	defer file.Close()
	m, err := png.Decode(file)
	require.NoError(t, err)
	return m
}

// assertSamePixels holds every value against another program's.
func assertSamePixels(t *testing.T, want image.Image, path string, what any) *Photo {
	t.Helper()
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

// testdata/turned.heic: heif-enc's HEVC data in a container that turns it by a
// quarter, with an EXIF block that says the same once more (orientation 8).
// turned.png is what heif-convert made of it.
func TestATurnedHEICIsNotTurnedTwice(t *testing.T) {
	got := assertSamePixels(t, readPNG(t, "testdata/turned.png"), "testdata/turned.heic", "turned")
	assert.Equal(t, 1, got.Orientation)
	assert.True(t, got.HasEXIF)
}

// testdata/small.avif is heif-enc's, small.png what heif-convert made of it.
func TestAVIFIsReadWithoutRegardToItsName(t *testing.T) {
	data, err := os.ReadFile("testdata/small.avif")
	require.NoError(t, err)
	assertSamePixels(t, readPNG(t, "testdata/small.png"), saved(t, "a.jpg", data), "avif")
}

// turns are all sequences of at most one quarter turn and one mirroring, in both orders.
func turns() map[string][]string {
	all := map[string][]string{"none": nil}
	for axis := range byte(2) {
		all[fmt.Sprint("mirror ", axis)] = []string{imir(axis)}
	}
	for quarters := range byte(4) {
		all[fmt.Sprint("turn ", quarters)] = []string{irot(quarters)}
		for axis := range byte(2) {
			all[fmt.Sprint("turn ", quarters, " mirror ", axis)] = []string{irot(quarters), imir(axis)}
			all[fmt.Sprint("mirror ", axis, " turn ", quarters)] = []string{imir(axis), irot(quarters)}
		}
	}
	return all
}

const madeWidth, madeHeight = 70, 66 // below 64 heif-enc pads, and crops by the container

func TestEveryTurnOfTheContainerIsAsConverted(t *testing.T) {
	picture := codedIn(t, heicOf(t, scene(madeWidth, madeHeight)))
	seen := map[string]bool{}
	for name, boxes := range turns() {
		file := containerOf(1, picture.item(madeWidth, madeHeight, boxes...))
		path := saved(t, "a.heic", file)
		plain := assertSamePixels(t, converted(t, path), path, name)
		seen[string(plain.Pix)] = true
		for _, orientation := range []byte{1, 3, 6, 8} {
			with := containerOf(1, picture.item(madeWidth, madeHeight, boxes...), exifItem(orientedTIFF(orientation)))
			got := readMade(t, "a.heic", with)
			require.Equal(t, plain.Pix, got.Pix, "%s, EXIF says %d", name, orientation)
			require.Equal(t, 1, got.Orientation)
		}
	}
	assert.Len(t, seen, 8, "the eight ways a picture can lie")
}

// A turn is anticlockwise (ISO/IEC 23008-12, 6.5.10): worked by hand on the
// place of the picture's one dark corner.
func TestTheContainersTurnIsAnticlockwise(t *testing.T) {
	m := image.NewGray(image.Rect(0, 0, 128, 64))
	draw.Draw(m, m.Bounds(), image.White, image.Point{}, draw.Src)
	draw.Draw(m, image.Rect(0, 0, 32, 32), image.Black, image.Point{}, draw.Src)
	picture := codedIn(t, heicOf(t, m))
	for quarters, corner := range []image.Point{{10, 10}, {10, 117}, {117, 53}, {53, 10}} {
		got := readMade(t, "a.heic", containerOf(1, picture.item(128, 64, irot(byte(quarters)))))
		at := 3 * (corner.Y*got.Image.Width + corner.X)
		assert.Less(t, got.Pix[at], byte(60), "%d quarters", quarters)
		assert.Greater(t, got.Pix[3*(32*got.Image.Width+32)], byte(60), "%d quarters", quarters)
	}
}

func TestEveryKindOfHEIFIsAsConverted(t *testing.T) {
	bounds := image.Rect(0, 0, 101, 77) // odd on purpose
	deep, glass, grey := image.NewRGBA64(bounds), image.NewNRGBA(bounds), image.NewGray(bounds)
	for _, m := range []draw.Image{deep, glass, grey} {
		draw.Draw(m, bounds, scene(101, 77), image.Point{}, draw.Src)
	}
	for x := range 101 {
		glass.Set(x, 5, color.NRGBA{200, 100, 50, uint8(2 * x)})
	}
	small := scene(20, 9)
	cases := []struct {
		name   string
		source image.Image
		args   string
	}{
		{"a.heic", scene(101, 77), "-q 80"},
		{"a.heic", scene(101, 77), "-q 20 -t 32"},
		{"a.heic", scene(101, 77), "-L -p chroma=444 --matrix_coefficients=0"},
		{"a.heic", scene(101, 77), "-q 80 -p chroma=422"},
		{"a.heic", scene(101, 77), "-q 80 --full_range_flag=0 --matrix_coefficients=1"},
		{"a.heic", deep, "-q 80 -b 10"},
		{"a.heic", deep, "-q 80 -b 12"},
		{"a.heic", glass, "-q 80"},
		{"a.heic", glass, "-q 80 --premultiplied-alpha"},
		{"a.heic", grey, "-q 80"},
		{"a.heic", small, "-q 80"},
		{"a.avif", scene(101, 77), "-q 80"},
		{"a.avif", glass, "-q 80"},
		{"a.avif", grey, "-q 80"},
	}
	for _, c := range cases {
		path := heifEnc(t, saved(t, "source.png", pngOf(t, c.source)), c.name, strings.Fields(c.args)...)
		assertSamePixels(t, converted(t, path), path, c)
	}
}

// Phones store a photo as a grid of tiles.
func gridOf(t testing.TB) (tiles, all []item) {
	var refs []int
	whole := scene(256, 192)
	for i := range 12 {
		tile := image.NewRGBA(image.Rect(0, 0, 64, 64))
		draw.Draw(tile, tile.Bounds(), whole, image.Pt(i%4*64, i/4*64), draw.Src)
		part := codedIn(t, heicOf(t, tile)).item(64, 64)
		part.hidden = true
		tiles = append(tiles, part)
		refs = append(refs, i+1)
	}
	const rowsLess1, columnsLess1, width, height = 2, 3, 250, 180 // the last tiles reach beyond
	grid := string([]byte{0, 0, rowsLess1, columnsLess1}) + be16(width) + be16(height)
	all = append(all, tiles...)
	return tiles, append(all, item{kind: "grid", data: grid, properties: []string{ispe(width, height), irot(3)}, refers: "dimg", to: refs})
}

func TestAGridOfTilesIsAsConverted(t *testing.T) {
	tiles, items := gridOf(t)
	path := saved(t, "a.heic", containerOf(len(items), items...))
	got := assertSamePixels(t, converted(t, path), path, "grid")
	assert.Equal(t, 180, got.Facts.Width)

	items[3].data = items[3].data[:len(items[3].data)/2] // a tile cut inside its container
	assertRefused(t, Truncated, "a.heic", containerOf(len(items), items...))
	items[len(items)-1].to[3] = 99 // a tile that is not there
	items[3] = tiles[3]
	assertRefused(t, Truncated, "a.heic", containerOf(len(items), items...))
}

// The main picture is the one that the file names, not the first.
func TestTheMainPictureOfSeveralIsRead(t *testing.T) {
	first := codedIn(t, heicOf(t, scene(80, 64)))
	second := codedIn(t, heicOf(t, scene(96, 72)))
	items := []item{first.item(80, 64), second.item(96, 72)}
	assert.Equal(t, 80, readMade(t, "a.heic", containerOf(1, items...)).Facts.Width)
	assert.Equal(t, 96, readMade(t, "a.heic", containerOf(2, items...)).Facts.Width)
	assertRefused(t, NotAnImage, "a.heic", containerOf(0, items...))
}
