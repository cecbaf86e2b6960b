package photo

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"image"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// These tests cut files of known content: each must be found at every place it
// is cut, and never be taken for whole.

var endOfJPEG = []byte{0xFF, markEOI}

// places are some fifty cuts from the first byte to the last.
func places(length int) (cuts []int) {
	for i := 1; i < 50; i++ {
		cuts = append(cuts, length*i/50)
	}
	return append(cuts, length-2, length-1)
}

func TestACutJPEGIsFoundAnywhere(t *testing.T) {
	for name, data := range map[string][]byte{"baseline": jpegOf(t, scene(200, 150)), "progressive": progressiveOf(t, scene(200, 150))} {
		readMade(t, "whole.jpg", data)
		for _, at := range places(len(data)) {
			_, err := inspect(data[:at])
			require.Error(t, err, "%s cut at %d of %d", name, at, len(data))
			assertCode(t, Truncated, err)
		}
	}
}

// The fast decoder fills the missing part with grey and says nothing. Only what
// is missing from the last 16 x 16 pixels can pass.
func TestACutJPEGWithItsEndPutBackIsFound(t *testing.T) {
	grey := image.NewGray(image.Rect(0, 0, 200, 150))
	for i := range grey.Pix {
		grey.Pix[i] = byte(i * 7919 >> 3)
	}
	files := map[string][]byte{
		"baseline": jpegOf(t, scene(200, 150)), "grey": jpegOf(t, grey), "progressive": progressiveOf(t, scene(200, 150)),
	}
	for name, data := range files {
		const lastBlocks = 100 // bytes; a 16 x 16 block of these takes about 90
		for _, at := range places(len(data) - lastBlocks) {
			file := append(append([]byte{}, data[:at]...), endOfJPEG...)
			_, err := Read(saved(t, "cut.jpg", file), DefaultLimits())
			require.Error(t, err, "%s cut at %d of %d", name, at, len(data))
			assertCode(t, Truncated, err)
		}
	}
}

// A photo may end in exactly the filler's grey.
func TestAGreyCornerIsNotACut(t *testing.T) {
	m := image.NewGray(image.Rect(0, 0, 70, 50))
	for i := range m.Pix {
		m.Pix[i] = fillerGrey
	}
	got := readMade(t, "grey.jpg", jpegOf(t, m))
	require.True(t, looksFilled(got.Image))
}

// Phones append films, depth maps and further pictures.
func TestWhatFollowsThePicturesEndIsLeftAlone(t *testing.T) {
	tail := append(bytes.Repeat([]byte("ftypmp42"), 50), jpegStart...)
	for name, data := range map[string][]byte{"a.jpg": jpegOf(t, scene(40, 30)), "a.png": pngOf(t, scene(40, 30))} {
		plain := readMade(t, name, data)
		with := readMade(t, name, append(data, tail...))
		assert.Equal(t, plain.Pix, with.Pix)
	}
}

// A thumbnail inside the EXIF block has an end marker of its own.
func TestAThumbnailsEndIsNotThePhotos(t *testing.T) {
	data := withEXIF(jpegOf(t, scene(200, 150)), "II*\x00\x08\x00\x00\x00"+string(jpegOf(t, scene(16, 12))))
	readMade(t, "a.jpg", data)
	assertRefused(t, Truncated, "a.jpg", data[:len(data)/2])
}

func TestACutPNGIsFoundAnywhere(t *testing.T) {
	data := pngOf(t, scene(60, 40))
	for at := 1; at < len(data); at++ {
		_, err := inspect(data[:at])
		require.Error(t, err, "cut at %d of %d", at, len(data))
		assertCode(t, Truncated, err)
	}
}

// The CRC of a PNG's chunk finds every single wrong byte in it.
func TestADamagedPNGIsFound(t *testing.T) {
	data := pngOf(t, scene(60, 40))
	for at := len(pngStart); at < len(data); at += 7 {
		bad := append([]byte{}, data...)
		bad[at] ^= 0x10
		_, err := inspect(bad)
		require.Error(t, err, "byte %d", at)
	}
}

// Sound chunks around too few rows, or around a stream that was cut.
func TestAPNGOfTooFewRowsIsFound(t *testing.T) {
	size := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, 8), 8)
	rows := make([]byte, 8*(1+8)) // grey, a filter byte before each row
	file := func(stream []byte) []byte {
		out := append([]byte(pngStart), chunk("IHDR", append(size, 8, 0, 0, 0, 0))...)
		return append(append(out, chunk("IDAT", stream)...), chunk("IEND", nil)...)
	}
	whole := packed(t, rows)
	assert.Equal(t, 8, readMade(t, "a.png", file(whole)).Facts.Height)
	assertRefused(t, Truncated, "a.png", file(packed(t, rows[:9*5])))
	assertRefused(t, Truncated, "a.png", file(whole[:len(whole)-6]))
	assertRefused(t, Truncated, "a.png", file(nil))
}

func packed(t *testing.T, raw []byte) []byte {
	t.Helper()
	var out bytes.Buffer
	w := zlib.NewWriter(&out)
	_, err := w.Write(raw)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return out.Bytes()
}

func TestAJPEGOfEndlessScansIsRefused(t *testing.T) {
	data := jpegOf(t, scene(16, 16))
	scan := bytes.Index(data, []byte{0xFF, markSOS})
	require.Positive(t, scan)
	body := data[scan : len(data)-2]
	many := append(append([]byte{}, data[:scan]...), bytes.Repeat(body, maxScans+1)...)
	assertRefused(t, NotAnImage, "a.jpg", append(many, endOfJPEG...))
}

// whatever the bytes, the walk ends, and a whole file stays whole with a tail.
func checkWalk(t *testing.T, data []byte) {
	head, err := inspect(data)
	if err != nil {
		assertCode(t, err.(*Error).Code, err)
		return
	}
	if head.width < 1 || head.height < 1 {
		t.Fatalf("whole, yet %d x %d", head.width, head.height)
	}
	again, err := inspect(append(bytes.Clone(data), "tail"...))
	if err != nil || again != head {
		t.Fatalf("with a tail: %+v, %v", again, err)
	}
}

func FuzzWalkJPEG(f *testing.F) {
	f.Add(jpegOf(f, scene(20, 10)))
	f.Add(progressiveOf(f, scene(20, 10)))
	f.Add([]byte(jpegStart))
	f.Fuzz(func(t *testing.T, data []byte) { checkWalk(t, append([]byte(jpegStart), data...)) })
}

func FuzzWalkPNG(f *testing.F) {
	f.Add([]byte("IHDR"), []byte("\x00\x00\x00\x08\x00\x00\x00\x08\x08\x02\x00\x00\x00"), []byte("x"))
	f.Add([]byte("IDAT"), []byte{}, pngOf(f, scene(20, 10))[len(pngStart):])
	f.Fuzz(func(t *testing.T, kind, body, rest []byte) {
		first := chunk(string(append(kind, "IHDR"...)[:4]), body) // a CRC is not guessed
		checkWalk(t, append(append([]byte(pngStart), first...), rest...))
		checkWalk(t, append([]byte(pngStart), rest...))
	})
}
