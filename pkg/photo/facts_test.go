package photo

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// exifFacts is what exiftool reads from a file.
type exifFacts struct {
	Make, Model, DateTimeOriginal, OffsetTimeOriginal string
	FocalLengthIn35mmFormat                           float64
	Orientation                                       int
}

func readByExiftool(t *testing.T, path string) exifFacts {
	t.Helper()
	var files []exifFacts
	require.NoError(t, json.Unmarshal(exiftool(t, "-json", "-n", path), &files))
	require.Len(t, files, 1)
	return files[0]
}

func TestFactsAgreeWithExiftool(t *testing.T) {
	args := []string{"-q", "-q", "-overwrite_original", "-Make=Lumen Works", "-Model=Pocket 7", "-Orientation#=6",
		"-DateTimeOriginal=2026:09:02 09:14:11", "-OffsetTimeOriginal=+05:30", "-FocalLengthIn35mmFormat=26",
		"-SubSecTimeOriginal=123", "-GPSLatitude=48.1", "-GPSLatitudeRef=N"}
	for name, data := range map[string][]byte{"a.jpg": jpegOf(t, scene(40, 30)), "a.png": pngOf(t, scene(40, 30))} {
		path := saved(t, name, data)
		exiftool(t, append(args, path)...)
		want := readByExiftool(t, path)
		require.Equal(t, "Pocket 7", want.Model)
		got, err := Read(path, DefaultLimits())
		require.NoError(t, err)
		assert.Equal(t, want.Make+" "+want.Model, got.Camera)
		assert.Equal(t, want.FocalLengthIn35mmFormat, got.Focal35MM)
		assert.Equal(t, want.Orientation, got.Orientation)
		date := strings.Replace(want.DateTimeOriginal, ":", "-", 2)
		assert.Equal(t, strings.Replace(date, " ", "T", 1)+want.OffsetTimeOriginal, got.Taken)
		assert.Equal(t, "2026-09-02T09:14:11+05:30", got.Taken)
		assert.True(t, got.HasEXIF)
		assert.Equal(t, name, got.File)
	}
}

func TestBigEndianFactsAreRead(t *testing.T) {
	for _, order := range []string{"II", "MM"} {
		path := saved(t, "a.jpg", jpegOf(t, scene(40, 30)))
		exiftool(t, "-q", "-overwrite_original", "-ExifByteOrder="+order, "-Model=Pocket 7", "-Orientation#=3", "-FocalLengthIn35mmFormat=28", path)
		got, err := Read(path, DefaultLimits())
		require.NoError(t, err)
		assert.Equal(t, "Pocket 7", got.Camera, order)
		assert.Equal(t, 3, got.Orientation, order)
		assert.Equal(t, 28.0, got.Focal35MM, order)
	}
}

func TestAStrippedPhotoHasNoFacts(t *testing.T) {
	got := readMade(t, "a.jpg", jpegOf(t, scene(40, 30)))
	assert.False(t, got.HasEXIF)
	assert.Equal(t, 1, got.Orientation)
	assert.Empty(t, got.Taken+got.Camera)
	assert.Zero(t, got.Focal35MM)
}

// The forms are those of EXIF 2.31 for 0x9003 and 0x9011: blanks with the
// colons kept mean unknown.
func TestTakenInventsNoZone(t *testing.T) {
	for _, c := range []struct{ local, offset, want string }{
		{"2026:09:02 09:14:11", "+02:00", "2026-09-02T09:14:11+02:00"},
		{"2026:09:02 09:14:11", "+00:00", "2026-09-02T09:14:11+00:00"},
		{"2026:09:02 09:14:11", "-03:30", "2026-09-02T09:14:11-03:30"},
		{"2026:09:02 09:14:11", "", "2026-09-02T09:14:11"},
		{"2026:09:02 09:14:11", "   :  ", "2026-09-02T09:14:11"},
		{"2026:09:02 09:14:11", "+99:00", "2026-09-02T09:14:11"},
		{"    :  :     :  :  ", "   :  ", ""},
		{"0000:00:00 00:00:00", "+02:00", ""},
		{"2026:02:30 09:14:11", "+02:00", ""},
		{"", "+02:00", ""},
	} {
		assert.Equal(t, c.want, taken(text(c.local), text(c.offset)), "%q %q", c.local, c.offset)
	}
}

func TestCameraDoesNotRepeatTheMake(t *testing.T) {
	for _, c := range [][3]string{
		{"Acme", "Acme P1", "Acme P1"},
		{"ACME", "Acme P1", "Acme P1"},
		{"Acme", "P1", "Acme P1"},
		{"Acme", "", "Acme"},
		{"", "P1", "P1"},
		{"", "", ""},
	} {
		assert.Equal(t, c[2], camera(c[0], c[1]))
	}
}

func TestTextCannotReachTheTerminalAsControl(t *testing.T) {
	assert.Equal(t, "[31mred", text("\x1b[31mred\x00\n  "))
	assert.Len(t, text(strings.Repeat("x", 9000)), maxText)
	assert.Empty(t, text(uint16(7)))
}

// Whatever stands in the EXIF block, the picture is read.
func TestBrokenEXIFDoesNotStopThePhoto(t *testing.T) {
	data := jpegOf(t, scene(40, 30))
	blocks := map[string]string{
		"nothing":        "",
		"no order":       "XX*\x00\x08\x00\x00\x00",
		"far offset":     "II*\x00\xff\xff\xff\x7f",
		"tags cut off":   "II*\x00\x08\x00\x00\x00\xff\xff\x12\x01",
		"pointer loop":   "II*\x00\x08\x00\x00\x00\x01\x00\x69\x87\x04\x00\x01\x00\x00\x00\x08\x00\x00\x00\x08\x00\x00\x00",
		"unknown type":   "MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x63\x00\x00\x00\x01\x00\x06\x00\x00",
		"huge count":     "MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\xff\xff\xff\xff\x00\x06\x00\x00",
		"text for a six": "MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x02\x00\x00\x00\x02six\x00",
	}
	for name, block := range blocks {
		got := readMade(t, "a.jpg", withEXIF(data, block))
		assert.Equal(t, 40, got.Facts.Width, name)
	}
	// and a sound block of the same make is understood
	sound := "MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x00\x00\x00\x00"
	assert.Equal(t, 6, readMade(t, "a.jpg", withEXIF(data, sound)).Orientation)
}

func withEXIF(jpeg []byte, block string) []byte {
	body := "Exif\x00\x00" + block
	length := len(body) + 2
	out := append([]byte{}, jpeg[:2]...)
	out = append(out, 0xFF, 0xE1, byte(length>>8), byte(length))
	return append(append(out, body...), jpeg[2:]...)
}

func FuzzFacts(f *testing.F) {
	f.Add([]byte("II*\x00\x08\x00\x00\x00"))
	f.Add([]byte("MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x00\x00\x00\x00"))
	f.Fuzz(func(t *testing.T, block []byte) {
		data := withEXIF([]byte("\xff\xd8\xff\xd9"), string(block[:min(len(block), 60000)]))
		file := append([]byte(pngStart), chunk("eXIf", block)...)
		for _, facts := range []Facts{readFacts(data, jpegFormat), readFacts(file, pngFormat)} {
			if facts.Orientation < 1 || facts.Orientation > 8 || facts.Focal35MM < 0 {
				t.Fatalf("%+v", facts)
			}
			if len([]rune(facts.Camera)) > 2*maxText+1 || text(facts.Camera) != string([]rune(facts.Camera)[:min(len([]rune(facts.Camera)), maxText)]) {
				t.Fatalf("camera %q", facts.Camera)
			}
		}
	})
}
