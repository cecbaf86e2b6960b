package photo

import (
	"encoding/binary"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/needs"
)

// HEIC files for the tests: heif-enc encodes the pictures; containers that it
// does not write (rotated, mirrored, of tiles) are put together here around its
// HEVC data, by ISO/IEC 14496-12 and 23008-12.

// tool runs a program of libheif-examples and skips the test without it.
func tool(t testing.TB, name string, args ...string) string {
	t.Helper()
	needs.Program(t, name, "libheif-examples")
	out, err := exec.Command(name, args...).CombinedOutput()
	require.NoError(t, err, string(out))
	return string(out)
}

// heifEnc encodes a picture file; the ending of name chooses HEIC or AVIF.
func heifEnc(t testing.TB, source, name string, args ...string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	tool(t, "heif-enc", append(args, source, "-o", path)...)
	return path
}

// heicOf is heif-enc's file of a picture.
func heicOf(t testing.TB, m image.Image) []byte {
	t.Helper()
	data, err := os.ReadFile(heifEnc(t, saved(t, "source.png", pngOf(t, m)), "a.heic", "-q", "80"))
	require.NoError(t, err)
	return data
}

// boxOf makes a box, fullBoxOf one with version and flags.
func boxOf(kind string, bodies ...string) string {
	body := strings.Join(bodies, "")
	return be32(8+len(body)) + kind + body
}

func fullBoxOf(kind string, version byte, bodies ...string) string {
	return boxOf(kind, string([]byte{version, 0, 0, 0})+strings.Join(bodies, ""))
}

func be16(v int) string { return string(binary.BigEndian.AppendUint16(nil, uint16(v))) }
func be32(v int) string { return string(binary.BigEndian.AppendUint32(nil, uint32(v))) }

// coded is one HEVC picture: its decoder's configuration and its data.
type coded struct{ hvcC, data string }

// codedIn takes the only picture out of a file of heif-enc.
func codedIn(t testing.TB, file []byte) coded {
	t.Helper()
	meta := firstBox(file, "meta")[4:]
	extents := codedExtents(meta)
	require.Len(t, extents, 1)
	part := extents[0]
	hvcC := firstBox(firstBox(firstBox(meta, "iprp"), "ipco"), "hvcC")
	require.NotEmpty(t, hvcC)
	return coded{boxOf("hvcC", string(hvcC)), string(file[part.offset : part.offset+part.length])}
}

// item is the picture as an item whose description has more boxes, in their order.
func (c coded) item(width, height int, more ...string) item {
	return item{kind: "hvc1", data: c.data, properties: append([]string{c.hvcC, ispe(width, height)}, more...)}
}

// item is one item of a made container.
type item struct {
	kind       string // four letters
	data       string
	properties []string // whole boxes
	refers     string   // kind of reference to other items, "" for none
	to         []int    // their numbers
	hidden     bool     // a part of another item, as tiles are
}

// containerOf makes a HEIC file of items, numbered from 1; primary 0: no main picture is named.
func containerOf(primary int, items ...item) []byte {
	var infos, refs, ipco, ipma, data string
	properties := 0
	for i, it := range items {
		info := []byte(fullBoxOf("infe", 2, be16(i+1), be16(0), it.kind, "\x00"))
		if it.hidden {
			info[11] = 1 // its flags
		}
		infos += string(info)
		if it.refers != "" {
			body := be16(i+1) + be16(len(it.to))
			for _, id := range it.to {
				body += be16(id)
			}
			refs += boxOf(it.refers, body)
		}
		ipma += be16(i+1) + string([]byte{byte(len(it.properties))})
		for _, property := range it.properties {
			properties++
			ipco += property
			ipma += string([]byte{0x80 | byte(properties)}) // essential
		}
		data += it.data
	}
	ftyp := boxOf("ftyp", "heic", be32(0), "mif1", "heic")
	meta := func(start int) string {
		iloc := be16(0x4400) + be16(len(items))
		for i, it := range items {
			iloc += be16(i+1) + be16(0) + be16(1) + be32(start) + be32(len(it.data))
			start += len(it.data)
		}
		boxes := fullBoxOf("hdlr", 0, be32(0), "pict", be32(0), be32(0), be32(0), "\x00")
		if primary > 0 {
			boxes += fullBoxOf("pitm", 0, be16(primary))
		}
		boxes += fullBoxOf("iloc", 0, iloc) + fullBoxOf("iinf", 0, be16(len(items)), infos)
		if refs != "" {
			boxes += fullBoxOf("iref", 0, refs)
		}
		return fullBoxOf("meta", 0, boxes, boxOf("iprp", boxOf("ipco", ipco), fullBoxOf("ipma", 0, be32(len(items)), ipma)))
	}
	start := len(ftyp) + len(meta(0)) + 8
	return []byte(ftyp + meta(start) + boxOf("mdat", data))
}

func ispe(width, height int) string { return fullBoxOf("ispe", 0, be32(width), be32(height)) }

// irot turns by quarter turns, anticlockwise; imir mirrors (ISO/IEC 23008-12, 6.5.10 and 6.5.12).
func irot(quarters byte) string { return boxOf("irot", string([]byte{quarters})) }
func imir(axis byte) string     { return boxOf("imir", string([]byte{axis})) }

// exifItem is an EXIF block about item 1, as phones store it.
func exifItem(tiff string) item {
	return item{kind: "Exif", data: be32(6) + "Exif\x00\x00" + tiff, refers: "cdsc", to: []int{1}}
}

// orientedTIFF is an EXIF block that says one orientation and nothing else.
func orientedTIFF(orientation byte) string {
	return "MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00" + string([]byte{orientation}) + "\x00\x00\x00\x00\x00\x00"
}
