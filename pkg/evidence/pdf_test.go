package evidence

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/caution"
	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/drawing/drawingtest"
	"burngauge.dev/burngauge/pkg/needs"
	"burngauge.dev/burngauge/pkg/report"
)

// pdfOf writes the sheet into a file.
func pdfOf(t *testing.T, s Sheet) string { return drawingtest.File(t, "sheet.pdf", s.WritePDF) }

// pdfText is the text that poppler finds, page by page.
func pdfText(t *testing.T, s Sheet) []string {
	t.Helper()
	needs.Program(t, "pdftotext", "poppler-utils")
	text := drawingtest.Run(t, "pdftotext", "-layout", pdfOf(t, s), "-")
	return strings.Split(strings.TrimSuffix(text, "\f"), "\f")
}

// squeezed takes out the blanks and line ends that a layout puts in.
func squeezed(text string) string { return strings.Join(strings.Fields(text), "") }

// What the HTML says the PDF says too; file names and long sentences are
// compared without their line breaks.
func TestThePDFHasRealText(t *testing.T) {
	pages := pdfText(t, withPictures(t, example()))
	for _, want := range []string{"J-2026-104/2", "Jadwiga Müller-Wałęsa", "Halle 3 – Łódź", "Outside: not every station lies within 2 mm of the centre",
		"0.966 ± 0.030", "2.413 down", "before: no number (cut-off)", "warning (one-ring)", "page 1 of 3"} {
		assert.Contains(t, pages[0], want)
	}
	all := squeezed(drawingtest.Run(t, "pdftotext", "-raw", pdfOf(t, withPictures(t, example())), "-"))
	for _, want := range append([]string{fmt.Sprintf("%064x", len("rear-left.jpg")*7919), "2026-09-02 09:14:11 +02:00", "IMG_0412.jpg", "is not a signature",
		"front-left-and-a-very-long-name-that-a-phone-made-up-20260902_091411_HDR_0000001.jpg", "0.750 left", rule, caution.Advice}, caution.Lines()...) {
		assert.Contains(t, all, squeezed(want))
	}
}

func TestMapAndTableShareTheFirstPage(t *testing.T) {
	for _, paper := range drawing.Papers() {
		s := example()
		s.Paper = paper
		first := pdfText(t, s)[0]
		for _, want := range []string{"Alignment evidence", "Outside:", "The bed, seen from the front", "The burns in numbers", "2.623 ± 0.019", "95 of 100 cases"} {
			assert.Contains(t, first, want, paper)
		}
	}
}

// A station more than the five, or twelve of one's own, make the map smaller and
// not the page two.
func TestMoreStationsStillShareTheFirstPage(t *testing.T) {
	further := example()
	for _, s := range [][]report.Station{further.Report.Stations, further.Before.Stations} {
		for i := range s {
			s[i].Burn = mark(s[i].Station+".jpg", 0.3, 0.2, 0.02) // no long remarks
		}
	}
	extra := *mark("attic.jpg", 0.1, 0.2, 0.03)
	further.Before.Stations = append(further.Before.Stations, report.Station{Station: "attic", Photos: []string{"attic.jpg"}, Burn: &extra})
	twelve := single(0.3, 0.2, report.Size{MajorMM: 3, MinorMM: 3})
	twelve.Report.Expected, twelve.Report.Stations = nil, nil
	for i := range 12 {
		name := fmt.Sprintf("place-%02d", i+1)
		twelve.Report.Expected = append(twelve.Report.Expected, name)
		twelve.Report.Stations = append(twelve.Report.Stations, report.Station{Station: name, Photos: []string{name + ".jpg"}, Burn: mark(name+".jpg", 0.3, 0.2, 0.02)})
	}
	for last, s := range map[string]Sheet{"attic": further, "place-12": twelve} {
		for _, s.Paper = range drawing.Papers() {
			first := pdfText(t, s)[0]
			assert.Equal(t, 2, strings.Count(first, last), "in the map and in the table, %s", s.Paper)
			assert.Contains(t, first, "95 of 100 cases", s.Paper)
		}
	}
}

// Remarks on every station of both rounds push the table off the first page on no
// paper: they stand further on, each once and with its station.
func TestManyRemarksLeaveTheTableOnTheFirstPage(t *testing.T) {
	s := example()
	for _, stations := range []*[]report.Station{&s.Report.Stations, &s.Before.Stations} {
		extra := *mark("attic.jpg", 0.1, 0.2, 0.03)
		*stations = append(*stations, report.Station{Station: "attic", Photos: []string{"attic.jpg"}, Burn: &extra})
		for i := range *stations {
			b := mark((*stations)[i].Station+".jpg", 0.3, 0.2, 0.02)
			b.Warnings = []report.Warning{{Code: "shrunk", Text: "the photo looks shrunk or stripped by a messenger: ask for the original file"}}
			(*stations)[i].Burn = b
		}
	}
	s.Report.Job.Notes = strings.Repeat("A long note on the tube change. ", 12)
	for _, s.Paper = range drawing.Papers() {
		pages := pdfText(t, s)
		for _, want := range []string{"The burns in numbers", "95 of 100 cases", "The remarks on the burns stand further on."} {
			assert.Contains(t, pages[0], want, s.Paper)
		}
		assert.Equal(t, 2, strings.Count(pages[0], "attic"), "in the map and in the table, %s", s.Paper)
		whole := strings.Join(pages, "")
		for _, station := range s.Report.Stations {
			for _, when := range []string{": ", ": before: "} {
				assert.Equal(t, 1, strings.Count(whole, station.Station+when+"warning (shrunk): the photo looks"), "%s, %s", station.Station, s.Paper)
			}
		}
	}
}

// The usual five stations: their pictures stand on one page.
func TestFiveOverlaysStandOnOnePage(t *testing.T) {
	s := withPictures(t, example())
	last := s.Pictures[len(s.Pictures)-1]
	for len(s.Pictures) < 5 {
		s.Pictures = append(s.Pictures, last)
	}
	require.Len(t, s.Pictures, 5)
	for _, s.Paper = range drawing.Papers() {
		assert.Equal(t, 5, strings.Count(pdfText(t, s)[1], "SHA-256"), s.Paper)
	}
}

func TestFontsAreEmbedded(t *testing.T) {
	needs.Program(t, "pdffonts", "poppler-utils")
	lines := strings.Split(strings.TrimSpace(drawingtest.Run(t, "pdffonts", pdfOf(t, example()))), "\n")[2:]
	require.Len(t, lines, 2, "regular and bold")
	for _, line := range lines {
		assert.Regexp(t, `TrueType\s+\S+\s+yes\s+\S+\s+yes`, line, "embedded, with a map to Unicode")
	}
}

// Sizes: ISO 216 and 8.5 x 11 inches, in points of 1/72 inch.
func TestPapersAreOfTheirSize(t *testing.T) {
	needs.Program(t, "pdfinfo", "poppler-utils")
	for paper, want := range map[string]string{"": `595\.2\d* x 841\.8\d* pts`, "A4": `595\.2\d* x 841\.8\d* pts`, "letter": `612 x 792 pts`} {
		s := example()
		s.Paper = paper
		assert.Regexp(t, want, drawingtest.Run(t, "pdfinfo", pdfOf(t, s)), paper)
	}
}

func TestTheSamePDFInAnotherProcess(t *testing.T) {
	drawingtest.SameInAnotherProcess(t, withPictures(t, example()).WritePDF)
}

func TestThePDFsBytesFollowTheSheet(t *testing.T) {
	read := func(s Sheet) []byte {
		data, err := os.ReadFile(pdfOf(t, s))
		require.NoError(t, err)
		return data
	}
	s := withPictures(t, example())
	first := read(s)
	s.Made = s.Made.Add(time.Second)
	assert.NotEqual(t, first, read(s))
	s.Made = time.Time{}
	assert.Contains(t, string(read(s)), "/CreationDate (D:20260902092000", "the report's time, not the clock's")
}

// Nothing leaves the margins, and no two words lie on each other.
func TestNothingIsClippedOrOverprinted(t *testing.T) {
	flood := hostile(withPictures(t, example()), strings.Repeat("Wide", 4000))
	for range 60 {
		m := flood.Report.Stations[0].Burn
		m.Warnings = append(m.Warnings, m.Warnings[0])
	}
	for name, s := range map[string]Sheet{"everything": withPictures(t, example()), "many": withPictures(t, crowd(17)), "hostile": hostile(withPictures(t, example()), strings.Repeat("Wide", 60)), "flood": flood} {
		for _, s.Paper = range drawing.Papers() {
			drawingtest.NothingClippedOrOverprinted(t, pdfOf(t, s), margin, name+", "+s.Paper)
		}
	}
}

func TestTheTablesHeadIsRepeatedOnEachPage(t *testing.T) {
	pages := pdfText(t, crowd(60))
	rows := 0
	for i, page := range pages {
		n := strings.Count(page, "warning (shrunk): the photo looks")
		if rows += n; n > 0 {
			assert.Contains(t, page, "left/right mm", "page %d", i+1)
			assert.Contains(t, page, fmt.Sprintf("page %d of %d", i+1, len(pages)))
		}
	}
	assert.Equal(t, 60, rows)
	assert.Contains(t, strings.Join(pages, ""), "Line 59 of the notes")
}

func TestThePaperShowsTheBurnWhereItIs(t *testing.T) {
	for _, d := range drawn {
		s := single(d.right, d.up, report.Size{MajorMM: d.size, MinorMM: d.size})
		path := pdfOf(t, s)
		picture := drawingtest.PDFPage(t, path, 300)
		pages, _, _ := drawingtest.Words(t, path)
		area := picture.Bounds()
		for _, w := range pages[0] {
			if w.Text == "front," { // the bed's lower edge: the legend below it has the same colours
				area.Max.Y = int(w.Top * 300 / 72)
			}
		}
		checkPlace(t, picture, area, s)
	}
}

func TestPicturesOfEveryKindAreShown(t *testing.T) {
	needs.Program(t, "pdfimages", "poppler-utils")
	var deep bytes.Buffer
	picture := image.NewRGBA64(image.Rect(0, 0, 30, 20)) // 16 bits a channel
	picture.Set(3, 3, color.RGBA64{65535, 20, 40000, 65535})
	require.NoError(t, png.Encode(&deep, picture))
	s := single(1, 1, report.Size{MajorMM: 2, MinorMM: 2})
	s.Pictures = []Picture{{Data: deep.Bytes(), Station: "middle", File: "a"}, {Data: smallJPEG(t), Station: "middle", File: "b"}}
	list := drawingtest.Run(t, "pdfimages", "-list", pdfOf(t, s))
	assert.Regexp(t, `\s30\s+20\s`, list)
	assert.Regexp(t, `\s40\s+50\s.*jpeg`, list)
}
