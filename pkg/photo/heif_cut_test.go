package photo

import (
	"bytes"
	"errors"
	"math/rand/v2"
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func heifSample(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	require.NoError(t, err)
	return data
}

func TestACutHEIFIsFoundAnywhere(t *testing.T) {
	for _, name := range []string{"turned.heic", "small.avif"} {
		data := heifSample(t, name)
		for at := 8; at < len(data); at++ { // before the eighth byte nothing shows what it is
			_, err := inspect(data[:at])
			require.Error(t, err, "%s cut at %d of %d", name, at, len(data))
			assertCode(t, Truncated, err)
		}
	}
}

// Some copying programs set a file's room aside before they fill it.
func TestAHEIFFilledWithZerosIsFound(t *testing.T) {
	for _, name := range []string{"turned.heic", "small.avif"} {
		data := heifSample(t, name)
		for _, at := range places(len(data) - 2*len(emptyRun)) {
			at = max(at, 12) // behind what shows the kind of file
			_, err := inspect(append(bytes.Clone(data[:at]), make([]byte, len(data)-at)...))
			require.Error(t, err, "%s empty from %d of %d", name, at, len(data))
			assertCode(t, Truncated, err)
		}
	}
}

// Whatever is wrong inside: a picture of the right size, or an error with a code.
func TestADamagedHEIFNeverPanics(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 8))
	for _, name := range []string{"turned.heic", "small.avif"} {
		data := heifSample(t, name)
		for range 400 {
			bad := bytes.Clone(data)
			for range 1 + random.IntN(4) {
				bad[random.IntN(len(bad))] ^= byte(1 << random.IntN(8))
			}
			got, err := Read(saved(t, "a.heic", bad), DefaultLimits())
			if err != nil {
				var refused *Error
				require.ErrorAs(t, err, &refused)
				assertCode(t, refused.Code, err)
				continue
			}
			require.Len(t, got.Pix, 3*got.Facts.Width*got.Facts.Height)
		}
	}
}

func TestWhatFollowsAHEIFsBoxesIsLeftAlone(t *testing.T) {
	for _, name := range []string{"turned.heic", "small.avif"} {
		data := heifSample(t, name)
		plain := readMade(t, name, data)
		for _, tail := range []string{"\x00", strings.Repeat("ftypmp42", 50), boxOf("mpvd", "a film"), strings.Repeat("\xff", 99)} {
			assert.Equal(t, plain.Pix, readMade(t, name, append(bytes.Clone(data), tail...)).Pix)
		}
	}
}

// resized is turned.heic with another size in its ispe box.
func resized(t testing.TB, width, height int) []byte {
	data := heifSample(t, "turned.heic")
	return bytes.Replace(data, []byte(ispe(70, 66)), []byte(ispe(width, height)), 1)
}

func TestAHEIFsHugeClaimCostsNothing(t *testing.T) {
	for _, size := range [][2]int{{100000, 100000}, {1<<31 - 1, 1<<31 - 1}, {40000, 10000}} {
		path := saved(t, "a.heic", resized(t, size[0], size[1]))
		var err error
		before := peakMemory(t)
		cost := allocated(func() { _, err = Read(path, DefaultLimits()) })
		assertCode(t, TooLarge, err)
		assert.Less(t, cost, uint64(1<<20), size)
		assert.Less(t, peakMemory(t)-before, 4<<20, size)
	}
}

// A small container around a large picture costs what the large picture costs.
func TestAHEIFsCodedSizeCountsToo(t *testing.T) {
	path := saved(t, "a.heic", resized(t, 30, 20))
	_, err := Read(path, Limits{Bytes: 1 << 20, Pixels: 70*66 - 1})
	assertCode(t, TooLarge, err)
	assertRefused(t, Truncated, "a.heic", resized(t, 640, 480))
}

// The size in the decoder's configuration is that of the box ispe when nothing
// is cropped; heif-enc's multiples of eight are not.
func TestTheCodedSizeIsFound(t *testing.T) {
	for _, size := range [][2]int{{72, 64}, {640, 480}, {1000, 72}} {
		data := heicOf(t, scene(size[0], size[1]))
		width, height := largestCoded(firstBox(data, "meta")[4:])
		assert.Equal(t, [2]int64{int64(size[0]), int64(size[1])}, [2]int64{width, height})
	}
}

func TestAFilmWithoutAPictureIsRefused(t *testing.T) {
	film := boxOf("ftyp", "hevc", be32(0), "hevc") + boxOf("moov", boxOf("mvhd")) + boxOf("mdat", "frames")
	_, err := Read(saved(t, "a.heic", []byte(film)), DefaultLimits())
	assertCode(t, NotAnImage, err)
	assert.ErrorContains(t, err, "film")
	assertRefused(t, NotAnImage, "a.mp4", []byte(boxOf("ftyp", "isom", be32(0), "mp42")+boxOf("moov", boxOf("mvhd"))))
	still := containerOf(1, item{kind: "zip0", data: "something", properties: []string{ispe(64, 64)}})
	assertRefused(t, NotAnImage, "a.heic", still)
}

func TestAHEIFsFactsAgreeWithExiftool(t *testing.T) {
	path := saved(t, "a.heic", heifSample(t, "turned.heic"))
	exiftool(t, "-q", "-q", "-overwrite_original", "-Make=Lumen Works", "-Model=Pocket 7", "-Orientation#=8",
		"-DateTimeOriginal=2026:09:02 09:14:11", "-OffsetTimeOriginal=-03:30", "-FocalLengthIn35mmFormat=26", path)
	want := readByExiftool(t, path)
	require.Equal(t, "Pocket 7", want.Model)
	got := assertSamePixels(t, readPNG(t, "testdata/turned.png"), path, "tagged")
	assert.Equal(t, want.Make+" "+want.Model, got.Camera)
	assert.Equal(t, want.FocalLengthIn35mmFormat, got.Focal35MM)
	assert.Equal(t, "2026-09-02T09:14:11-03:30", got.Taken)
	assert.True(t, got.HasEXIF)
	sum, err := exec.Command("sha256sum", path).Output()
	require.NoError(t, err)
	assert.Equal(t, strings.Fields(string(sum))[0], got.SHA256)
}

func TestAStrippedHEIFHasNoFacts(t *testing.T) {
	got := readMade(t, "a.avif", heifSample(t, "small.avif"))
	assert.False(t, got.HasEXIF)
	assert.Empty(t, got.Taken+got.Camera)
}

// peakMemory is the most memory the process ever held, bytes.
func peakMemory(t testing.TB) int {
	t.Helper()
	status, err := os.ReadFile("/proc/self/status")
	require.NoError(t, err)
	found := regexp.MustCompile(`VmHWM:\s+(\d+) kB`).FindSubmatch(status)
	require.NotNil(t, found)
	kilobytes, err := strconv.Atoi(string(found[1]))
	require.NoError(t, err)
	return kilobytes << 10
}

// 400 pictures of 256 x 256 would be 120 MB if each left libheif's behind.
func TestDecodingLeavesNoMemoryBehind(t *testing.T) {
	path := saved(t, "a.heic", heicOf(t, scene(256, 256)))
	bad := heifSample(t, "turned.heic")
	bad = bytes.Replace(bad, []byte("hvcC"), []byte("hvcX"), 1)
	round := func() {
		_, err := Read(path, DefaultLimits())
		require.NoError(t, err)
		_, err = Read(saved(t, "bad.heic", bad), DefaultLimits())
		require.Error(t, err)
	}
	for range 20 {
		round()
	}
	before := peakMemory(t)
	for range 400 {
		round()
	}
	assert.Less(t, peakMemory(t)-before, 20<<20)
}

// whatever the bytes, the walk ends, in an error with a code or in a part of them.
func FuzzWalkHEIF(f *testing.F) {
	f.Add(heifSample(f, "turned.heic"))
	f.Add(heifSample(f, "small.avif"))
	f.Add([]byte(boxOf("ftyp", "heic") + fullBoxOf("meta", 0, fullBoxOf("iloc", 2, be32(-1), be32(-1)))))
	f.Fuzz(func(t *testing.T, data []byte) {
		isHEIF(data)
		boxes, meta, err := walkHEIF(data)
		if refused := (*Error)(nil); err != nil && !errors.As(err, &refused) {
			t.Fatal(err)
		}
		if len(boxes) > len(data) || len(meta) > len(data) {
			t.Fatal("more than there is")
		}
		if width, height := largestCoded(meta); width < 0 || height < 0 || width > 1<<31 || height > 1<<31 {
			t.Fatal(width, height)
		}
	})
}
