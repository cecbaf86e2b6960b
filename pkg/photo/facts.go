package photo

import (
	"bytes"
	"strings"
	"time"
	"unicode"

	"github.com/bep/imagemeta"
)

// readFacts takes what the EXIF block says. Broken EXIF does not stop a photo
// from being read: what was understood before the fault is kept.
func readFacts(data []byte, format format) Facts {
	tags, seen := exifTags(data, format)
	if format == heifFormat {
		delete(tags, "Orientation") // the container's own holds, see decodeHEIF
	}
	return Facts{
		Orientation: orientation(tags),
		Taken:       taken(text(tags["DateTimeOriginal"]), text(tags["OffsetTimeOriginal"])),
		Camera:      camera(text(tags["Make"]), text(tags["Model"])),
		Focal35MM:   number(tags["FocalLengthIn35mmFormat"]), // the library's name for 0xA405
		HasEXIF:     seen,
	}
}

// wantedTags gives the directory each tag is read from. The thumbnail's (IFD1)
// has an orientation of its own, which is not the photo's.
var wantedTags = map[string]string{
	"Orientation":             "IFD0",
	"Make":                    "IFD0",
	"Model":                   "IFD0",
	"DateTimeOriginal":        "IFD0/ExifIFDP",
	"OffsetTimeOriginal":      "IFD0/ExifIFDP",
	"FocalLengthIn35mmFormat": "IFD0/ExifIFDP",
}

// exifTags returns the wanted tags, and whether there was any tag at all.
func exifTags(data []byte, format format) (tags map[string]any, seen bool) {
	tags = map[string]any{}
	kind := imagemeta.JPEG // the library does not sniff
	switch format {
	case pngFormat:
		kind = imagemeta.PNG
	case heifFormat: // libheif knows which of the file's EXIF blocks is the main picture's
		data, kind = heifEXIF(data), imagemeta.TIFF
	}
	options := imagemeta.Options{
		R:           bytes.NewReader(data),
		ImageFormat: kind,
		Sources:     imagemeta.EXIF,
		ShouldHandleTag: func(tag imagemeta.TagInfo) bool {
			seen = true
			return wantedTags[tag.Tag] == tag.Namespace
		},
		HandleTag: func(tag imagemeta.TagInfo) error {
			tags[tag.Tag] = tag.Value
			return nil
		},
	}
	_, _ = imagemeta.Decode(options) // whatever is wrong, the tags before it stand
	return tags, seen
}

// orientation is 1, as stored, when the tag is absent or out of its range.
func orientation(tags map[string]any) int {
	value := int(number(tags["Orientation"]))
	if value < 1 || value > 8 {
		return 1
	}
	return value
}

// taken joins EXIF's local time "YYYY:MM:DD HH:MM:SS" and offset "±HH:MM", both
// of fixed length. Blanks mean unknown. Without an offset the time stays local:
// no zone is made up.
func taken(local, offset string) string {
	const exif, rfc3339 = "2006:01:02 15:04:05", "2006-01-02T15:04:05"
	const zone = "-07:00"
	if when, err := time.Parse(exif+zone, local+offset); err == nil {
		return when.Format(rfc3339 + zone)
	}
	if when, err := time.Parse(exif, local); err == nil {
		return when.Format(rfc3339)
	}
	return ""
}

// camera is "Make Model"; many makers begin the model with their name already.
func camera(make, model string) string {
	if len(model) >= len(make) && strings.EqualFold(model[:len(make)], make) {
		return model
	}
	return strings.TrimSpace(make + " " + model)
}

// maxText bounds a name from EXIF in letters, which may be anything: a line of a terminal.
// Names of cameras have under 40.
const maxText = 80

// text is a tag's text without padding and without control characters, which
// would reach terminals; "" when the tag holds no text.
func text(value any) string {
	s, _ := value.(string)
	runes := []rune(strings.TrimSpace(strings.Map(printable, s)))
	return string(runes[:min(len(runes), maxText)])
}

func printable(r rune) rune {
	if !unicode.IsPrint(r) {
		return -1
	}
	return r
}

// number is a tag's whole number, 0 when it holds none. EXIF wants SHORT for
// the tags used here; some writers use its other whole types.
func number(value any) float64 {
	switch v := value.(type) {
	case uint8:
		return float64(v)
	case uint16:
		return float64(v)
	case uint32:
		return float64(v)
	case int32:
		return float64(v)
	}
	return 0
}
