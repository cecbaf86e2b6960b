// Package drawingtest is what the tests of every sheet have in common: other people's
// programs read a sheet back, and another process writes it again.
package drawingtest

import (
	"bytes"
	"context"
	"image"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/needs"
)

// Run starts a program and returns its standard output.
func Run(t testing.TB, name string, args ...string) string {
	t.Helper()
	ctx, stop := context.WithTimeout(t.Context(), 2*time.Minute)
	defer stop()
	var problems bytes.Buffer
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Stderr = &problems
	out, err := cmd.Output()
	require.NoError(t, err, "%s %v: %s", name, args, problems.String())
	return string(out)
}

// File is a file of a name, in a folder of its own, that write has filled.
func File(t testing.TB, name string, write func(io.Writer) error) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	var b bytes.Buffer
	require.NoError(t, write(&b))
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o600))
	return path
}

// PDFPage is the first page of a PDF by poppler, at a number of dots an inch.
func PDFPage(t testing.TB, path string, dpi int) image.Image {
	t.Helper()
	needs.Program(t, "pdftoppm", "poppler-utils")
	base := strings.TrimSuffix(path, ".pdf")
	Run(t, "pdftoppm", "-r", strconv.Itoa(dpi), "-png", "-singlefile", path, base)
	return PNG(t, base+".png")
}

// SVGPage is an SVG by librsvg, at a number of dots an inch.
func SVGPage(t testing.TB, path string, dpi int) image.Image {
	t.Helper()
	needs.Program(t, "rsvg-convert", "librsvg2-bin")
	Run(t, "rsvg-convert", "-d", strconv.Itoa(dpi), "-p", strconv.Itoa(dpi), "-o", path+".png", path)
	return PNG(t, path+".png")
}

// PNG reads a picture.
func PNG(t testing.TB, path string) image.Image {
	t.Helper()
	file, err := os.Open(path)
	require.NoError(t, err)
	defer file.Close()
	picture, err := png.Decode(file)
	require.NoError(t, err)
	return picture
}

// Word is one on a page of a PDF, in points of 1/72 inch, y down.
type Word struct {
	Left, Top, Right, Bottom float64
	Text                     string
}

var (
	pagePattern = regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)">`)
	wordPattern = regexp.MustCompile(`<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>`)
)

// Words are those of each page by poppler, and the last page's size in points.
func Words(t testing.TB, path string) (pages [][]Word, wide, tall float64) {
	t.Helper()
	needs.Program(t, "pdftotext", "poppler-utils")
	for _, page := range strings.Split(Run(t, "pdftotext", "-bbox", path, "-"), "</page>") {
		size := pagePattern.FindStringSubmatch(page)
		if size == nil {
			continue
		}
		wide, tall = number(t, size[1]), number(t, size[2])
		var list []Word
		for _, m := range wordPattern.FindAllStringSubmatch(page, -1) {
			list = append(list, Word{number(t, m[1]), number(t, m[2]), number(t, m[3]), number(t, m[4]), m[5]})
		}
		pages = append(pages, list)
	}
	return pages, wide, tall
}

func number(t testing.TB, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return v
}

// NothingClippedOrOverprinted fails when a word leaves the margins, which are in mm,
// or lies on another one: by more than half a point across and half its height.
func NothingClippedOrOverprinted(t *testing.T, path string, margin float64, where string) {
	t.Helper()
	const slack, above = 1, 4 // points: rounding; an ascender over its line
	least := margin*72/25.4 - slack
	pages, wide, tall := Words(t, path)
	require.NotEmpty(t, pages)
	for i, list := range pages {
		for j, a := range list {
			require.True(t, a.Left >= least && a.Right <= wide-least && a.Top >= least-above && a.Bottom <= tall-least+above, "%s, page %d: %q leaves the margins", where, i+1, a.Text)
			for _, b := range list[j+1:] {
				across := min(a.Right, b.Right) - max(a.Left, b.Left)
				height := min(a.Bottom, b.Bottom) - max(a.Top, b.Top)
				require.False(t, across > 0.5 && height > 0.5*min(a.Bottom-a.Top, b.Bottom-b.Top), "%s, page %d: %q lies on %q", where, i+1, a.Text, b.Text)
			}
		}
	}
}

// childVariable names the file that a test in another process writes.
const childVariable = "BURNGAUGE_TEST_SHEET"

// SameInAnotherProcess fails when another process, in another time zone and with
// another number of processors, writes other bytes. It starts the test that calls it
// once more, so that the calling test calls it first and once.
func SameInAnotherProcess(t *testing.T, write func(io.Writer) error) {
	t.Helper()
	var here bytes.Buffer
	require.NoError(t, write(&here))
	if path := os.Getenv(childVariable); path != "" {
		require.NoError(t, os.WriteFile(path, here.Bytes(), 0o600))
		return
	}
	path := filepath.Join(t.TempDir(), "again")
	cmd := exec.CommandContext(t.Context(), os.Args[0], "-test.run=^"+t.Name()+"$")
	cmd.Env = append(os.Environ(), childVariable+"="+path, "TZ=Pacific/Auckland", "GOMAXPROCS=1")
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
	there, err := os.ReadFile(path)
	require.NoError(t, err)
	require.True(t, bytes.Equal(here.Bytes(), there), "another process writes other bytes")
}
