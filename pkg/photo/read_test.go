package photo

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/color/palette"
	"image/draw"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestHashIsOfTheFile(t *testing.T) {
	data := append(jpegOf(t, scene(40, 30)), "a film that the phone put behind the picture"...)
	path := saved(t, "a.jpg", data)
	got, err := Read(path, DefaultLimits())
	require.NoError(t, err)
	out, err := exec.Command("sha256sum", path).Output()
	require.NoError(t, err)
	assert.Equal(t, strings.Fields(string(out))[0], got.SHA256)
	assert.Equal(t, int64(len(data)), got.Bytes)
}

// Go's own PNG decoder is the other opinion. Colours below transparency are
// kept as stored; of 16 bits the upper eight remain.
func TestEveryKindOfPNGComesOutAsGoDecodesIt(t *testing.T) {
	bounds := image.Rect(0, 0, 37, 23)
	black := color.Palette{color.Black, color.White}
	kinds := map[string]draw.Image{
		"rgb":     image.NewRGBA(bounds),
		"alpha":   image.NewNRGBA(bounds),
		"grey":    image.NewGray(bounds),
		"grey16":  image.NewGray16(bounds),
		"rgb16":   image.NewRGBA64(bounds),
		"alpha16": image.NewNRGBA64(bounds),
		"palette": image.NewPaletted(bounds, palette.WebSafe),
		"1 bit":   image.NewPaletted(bounds, black),
	}
	for name, m := range kinds {
		draw.Draw(m, bounds, scene(37, 23), image.Point{}, draw.Src)
		if strings.HasPrefix(name, "alpha") {
			for x := range 37 {
				m.Set(x, 5, color.NRGBA{200, 100, 50, uint8(7 * x)})
			}
		}
		got := readMade(t, "a.png", pngOf(t, m))
		for i := range 37 * 23 {
			r, g, b := straight(m.At(i%37, i/37))
			require.Equal(t, []byte{b, g, r}, got.Pix[3*i:3*i+3], "%s at %d", name, i)
		}
	}
}

// straight is a colour's upper eight bits, not multiplied by its opacity.
func straight(c color.Color) (r, g, b uint8) {
	if v, ok := c.(color.NRGBA); ok {
		return v.R, v.G, v.B
	}
	v := color.NRGBA64Model.Convert(c).(color.NRGBA64)
	return uint8(v.R >> 8), uint8(v.G >> 8), uint8(v.B >> 8)
}

func TestGreyAndOnePixelJPEGs(t *testing.T) {
	const jpegError = 2 // code values, at the best quality
	m := image.NewGray(image.Rect(0, 0, 16, 16))
	for i := range m.Pix {
		m.Pix[i] = 124
	}
	for _, v := range readMade(t, "grey.jpg", jpegOf(t, m)).Pix {
		require.InDelta(t, 124, v, jpegError)
	}
	one := scene(1, 1)
	for name, data := range map[string][]byte{"1.jpg": jpegOf(t, one), "1.png": pngOf(t, one)} {
		got := readMade(t, name, data)
		require.Len(t, got.Pix, 3)
		for i, want := range []uint8{one.Pix[2], one.Pix[1], one.Pix[0]} {
			assert.InDelta(t, want, got.Pix[i], 2*jpegError, name)
		}
	}
}

// cmyk.jpg (from Pillow) and ycck.jpg (from ImageMagick) are 32 x 32 pixels of
// red 200, green 100, blue 50, stored inverted as Adobe does.
func TestFourColourJPEGs(t *testing.T) {
	const rounding = 2
	for _, name := range []string{"cmyk.jpg", "ycck.jpg"} {
		got, err := Read(filepath.Join("testdata", name), DefaultLimits())
		require.NoError(t, err, name)
		require.Equal(t, 32, got.Image.Height)
		for i, v := range got.Pix {
			require.InDelta(t, []float64{50, 100, 200}[i%3], v, rounding, name)
		}
	}
	data, err := os.ReadFile(filepath.Join("testdata", "cmyk.jpg"))
	require.NoError(t, err)
	mark := strings.Index(string(data), "\xff\xee\x00\x0eAdobe")
	require.Positive(t, mark)
	unmarked := append(append([]byte{}, data[:mark]...), data[mark+16:]...)
	assertRefused(t, NotAnImage, "a.jpg", unmarked)
}

func assertRefused(t *testing.T, code Code, name string, data []byte) {
	t.Helper()
	_, err := Read(saved(t, name, data), DefaultLimits())
	assertCode(t, code, err)
}

// assertCode also holds the sentence to its form: one line, the fault, a colon, the advice.
func assertCode(t *testing.T, code Code, err error) {
	t.Helper()
	var got *Error
	require.ErrorAs(t, err, &got)
	assert.Equal(t, code, got.Code, got.Text)
	assert.Regexp(t, regexp.MustCompile(`^[a-z][^\n]+: [a-z][^\n]+[^.\n]$`), got.Text)
	assert.Equal(t, got.Text, err.Error())
}

func TestWhatIsNoPhotoIsRefusedWithItsCode(t *testing.T) {
	assertRefused(t, Empty, "a.jpg", nil)
	assertRefused(t, NotAnImage, "a.txt", []byte("not a picture at all"))
	assertRefused(t, NotAnImage, "a.jpg", make([]byte, 5000))
	assertRefused(t, NotAnImage, "a.gif", []byte("GIF89a\x01\x00\x01\x00\x00\x00\x00;"))
	assertRefused(t, Truncated, "a.jpg", []byte("\xff\xd8"))
	assertRefused(t, Truncated, "a.png", []byte("\x89PN"))
	_, err := Read(t.TempDir(), DefaultLimits())
	assertCode(t, NotAnImage, err)
	assert.ErrorContains(t, err, "folder")
	_, err = Read(os.DevNull, DefaultLimits())
	assertCode(t, NotAnImage, err)
	_, err = Read(filepath.Join(t.TempDir(), "missing.jpg"), DefaultLimits())
	assertCode(t, NotFound, err)
	assert.ErrorIs(t, err, fs.ErrNotExist)
}

func TestUnusualJPEGsAreRefused(t *testing.T) {
	data := jpegOf(t, scene(40, 30))
	frame := strings.Index(string(data), "\xff\xc0")
	require.Positive(t, frame)
	for offset, value := range map[int]byte{1: 0xC3, 4: 12} { // lossless; 12 bits
		odd := append([]byte{}, data...)
		odd[frame+offset] = value
		assertRefused(t, NotAnImage, "a.jpg", odd)
	}
	odd := append([]byte{}, data...)
	odd[frame+5], odd[frame+6] = 0, 0 // the height comes after the picture
	assertRefused(t, NotAnImage, "a.jpg", odd)
}

// allocated is what work takes from Go's heap, bytes.
func allocated(work func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	work()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// 100,000 x 100,000 pixels would decode to 30 GB.
func TestAHugeClaimCostsNothing(t *testing.T) {
	small := pngOf(t, scene(40, 30))
	size := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, 100000), 100000)
	header := chunk("IHDR", append(size, 8, 2, 0, 0, 0))
	hugePNG := append([]byte(pngStart), header...)
	hugePNG = append(hugePNG, small[len(pngStart)+len(header):]...)
	hugeJPEG := jpegOf(t, scene(40, 30))
	frame := strings.Index(string(hugeJPEG), "\xff\xc0")
	copy(hugeJPEG[frame+5:], "\xff\xdc\xff\xdc")
	for name, data := range map[string][]byte{"a.png": hugePNG, "a.jpg": hugeJPEG, "cut.png": hugePNG[:60]} {
		path := saved(t, name, data)
		var err error
		cost := allocated(func() { _, err = Read(path, DefaultLimits()) })
		assertCode(t, TooLarge, err)
		assert.Less(t, cost, uint64(1<<20), name)
	}
}

func TestLimitsHoldExactly(t *testing.T) {
	data := jpegOf(t, scene(40, 30))
	path := saved(t, "a.jpg", data)
	_, err := Read(path, Limits{Bytes: int64(len(data)), Pixels: 40 * 30})
	assert.NoError(t, err)
	_, err = Read(path, Limits{Bytes: int64(len(data)) - 1, Pixels: 40 * 30})
	assertCode(t, TooLarge, err)
	_, err = Read(path, Limits{Bytes: int64(len(data)), Pixels: 40*30 - 1})
	assertCode(t, TooLarge, err)
}

func TestAFileBeyondTheLimitIsNotRead(t *testing.T) {
	path := saved(t, "a.jpg", []byte(jpegStart))
	require.NoError(t, os.Truncate(path, DefaultLimits().Bytes+1)) // sparse
	var err error
	cost := allocated(func() { _, err = Read(path, DefaultLimits()) })
	assertCode(t, TooLarge, err)
	assert.Less(t, cost, uint64(1<<20))
}

// A file may grow between its size being asked and its bytes being read.
func TestAGrowingFileIsBounded(t *testing.T) {
	_, err := readAtMost(strings.NewReader(strings.Repeat("x", 101)), 10, 100)
	assertCode(t, TooLarge, err)
	data, err := readAtMost(strings.NewReader(strings.Repeat("x", 100)), 10, 100)
	require.NoError(t, err)
	assert.Len(t, data, 100)
}

func TestAReadFaultIsReported(t *testing.T) {
	fault := &fs.PathError{Op: "read", Path: "/card/a.jpg", Err: errors.New("input/output error")}
	_, err := readAtMost(io.MultiReader(strings.NewReader("x"), failing{fault}), 10, 100)
	assertCode(t, Truncated, err)
	assert.ErrorIs(t, err, fault)
	assert.NotContains(t, err.Error(), "/card/")
}

type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }

func TestReadingFromManyGoroutinesGivesTheSame(t *testing.T) {
	good := saved(t, "good.jpg", withEXIF(jpegOf(t, scene(640, 480)), "MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x00\x00\x00\x00"))
	heic := filepath.Join("testdata", "turned.heic")
	wantHEIC, err := Read(heic, DefaultLimits())
	require.NoError(t, err)
	bad := saved(t, "bad.png", pngOf(t, scene(64, 48))[:900])
	want, err := Read(good, DefaultLimits())
	require.NoError(t, err)
	var wait sync.WaitGroup
	faults := make(chan string, 80)
	for range 8 {
		wait.Go(func() {
			for range 5 {
				got, err := Read(good, DefaultLimits())
				if err != nil || got.Facts != want.Facts || sha256.Sum256(got.Pix) != sha256.Sum256(want.Pix) {
					faults <- fmt.Sprint("good: ", err)
				}
				if got, err := Read(heic, DefaultLimits()); err != nil || !bytes.Equal(got.Pix, wantHEIC.Pix) {
					faults <- fmt.Sprint("heic: ", err)
				}
				var refused *Error
				if _, err := Read(bad, DefaultLimits()); !errors.As(err, &refused) || refused.Code != Truncated {
					faults <- fmt.Sprint("bad: ", err)
				}
			}
		})
	}
	wait.Wait()
	close(faults)
	for fault := range faults {
		t.Error(fault)
	}
}
