package evidence

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/caution"
	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/target"
)

// htmlOf is the whole sheet as HTML.
func htmlOf(t testing.TB, s Sheet) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, s.WriteHTML(&b))
	return b.String()
}

// textOf is what a reader of the HTML sees, by another parser, one line an
// element.
func textOf(t testing.TB, s Sheet) string {
	t.Helper()
	var out strings.Builder
	style := false
	for _, token := range tokens(t, htmlOf(t, s)) {
		switch token := token.(type) {
		case xml.StartElement:
			style = token.Name.Local == "style"
		case xml.EndElement:
			style = false
		case xml.CharData:
			if words := strings.TrimSpace(string(token)); words != "" && !style {
				out.WriteString(words + "\n")
			}
		}
	}
	return out.String()
}

// tokens reads the page with a strict XML parser: every element closed, every
// attribute quoted. It refuses what a browser would silently mend.
func tokens(t testing.TB, page string) []xml.Token {
	t.Helper()
	decoder := xml.NewDecoder(strings.NewReader(page))
	decoder.Entity = xml.HTMLEntity
	var out []xml.Token
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		require.NoError(t, err)
		out = append(out, xml.CopyToken(token))
	}
}

func TestTheSheetShowsEverything(t *testing.T) {
	text := textOf(t, withPictures(t, example()))
	for _, want := range []string{
		"J-2026-104/2", "bed 900 x 600, no. 17", "Jadwiga Müller-Wałęsa", "Halle 3 – Łódź", "Mirror 3 cleaned.", "Tube 4 months old.",
		"2026-09-02 09:20:00 +02:00", "2026-09-01 08:02:00 +02:00, reference J-2026-104/1",
		"Outside: not every station lies within 2 mm of the centre", "front-right is farthest out",
		"Beware: 1 warning, 2 marks without a number, 1 photo of no station",
		"0.440 left", "0.860 up", "0.966 ± 0.030", "1.029 right", "2.413 down", "2.623 ± 0.019", "3.220 ± 0.030",
		"borderline, 61 % likely inside", "refused: cut-off",
		"no number (cut-off): the target is cut off at the left: step back",
		"before: no number (cut-off)", "warning (one-ring): only one ring was seen", "warning: one-ring",
		"0.750 left", "0.640 up", "0.067", // beam from pointer
		"front-left (2).jpg", "front-left-and-a-very-long-name", "IMG_0412.jpg", "its name has no station",
		"plain-4", "4 mm, 8 mm, 12 mm, 16 mm", rule, "burngauge 1.0.0, OpenCV 4.6.0",
		"sha256/RFC 8785: " + fmt.Sprintf("%064x", 123456789), "is not a signature",
		caution.Advice, "rear-left.jpg", "2026-09-02 09:14:11 +02:00", fmt.Sprintf("%064x", len("rear-left.jpg")*7919),
	} {
		assert.Contains(t, text, want)
	}
	for _, line := range caution.Lines() {
		assert.Contains(t, text, line)
	}
}

// The warning's text must stand by the number in the table, by the overlay, and
// its code on the map.
func TestWarningsStandWhereverTheNumberDoes(t *testing.T) {
	text := textOf(t, withPictures(t, example()))
	assert.Equal(t, 2, strings.Count(text, "warning (one-ring): only one ring was seen"))
	assert.Equal(t, 1, strings.Count(text, "warning: one-ring"))
}

func TestInchesAreMillimetresBy25Point4(t *testing.T) {
	s := single(2.54, 0, report.Size{MajorMM: 2, MinorMM: 2})
	s.Report.LimitMM = 5.08
	s.Units = report.Inches
	s.Report.Judge()
	text := textOf(t, s)
	for _, want := range []string{"0.10000 right", "0.10000 ± 0.00079", "within 0.2 in of the centre", "inside the limit of 0.0787 in", "distance in", "0.157 in, 0.315 in"} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, " mm ", "no unit but inches")
}

func TestEachStateHasItsHeadline(t *testing.T) {
	for state, want := range map[string]string{
		"inside": "Inside: every station", "outside": "Outside: not every station",
		"borderline": "Borderline: too near the limit", "incomplete": "Incomplete: not every station has a number",
		"<i>": "Borderline: too near the limit", // an unknown one claims nothing
	} {
		s := single(1, 0, report.Size{MajorMM: 2, MinorMM: 2})
		s.Report.Verdict = report.SetVerdict{State: state}
		assert.Contains(t, textOf(t, s), want)
	}
}

func TestAStationThatWasExpectedIsShownWithoutAMark(t *testing.T) {
	s := single(1, 0, report.Size{MajorMM: 2, MinorMM: 2})
	s.Report.Expected = append(s.Report.Expected, "front-left")
	assert.Contains(t, textOf(t, s), "front-left\nnot measured")
}

func TestAStationThatStandsTwiceIsShownTwice(t *testing.T) {
	s := single(1, 0, report.Size{MajorMM: 2, MinorMM: 2})
	s.Report.Stations = append(s.Report.Stations, report.Station{Station: "middle", Burn: mark("again.jpg", 0.123, 0, 0.02)})
	text := textOf(t, s)
	assert.Contains(t, text, "1.000 right")
	assert.Contains(t, text, "0.123 right")
}

func TestWithoutADigestTheSheetSaysSo(t *testing.T) {
	s := single(1, 0, report.Size{MajorMM: 2, MinorMM: 2})
	s.Report.Integrity = nil
	assert.Contains(t, textOf(t, s), "carries no check value")
}

func TestWhatCannotBeDrawnIsRefused(t *testing.T) {
	good := example()
	noRings := *good.Report
	noRings.Target = target.Spec{Name: "x"}
	for says, s := range map[string]Sheet{
		"no report given":                  {},
		"the report's target":              {Report: &noRings},
		`no paper called "a0"`:             {Report: good.Report, Paper: "a0"},
		`the overlay of "a\nb"`:            {Report: good.Report, Pictures: []Picture{{File: "a\nb", Data: []byte("GIF89a")}}},
		`the overlay of "cut" is not a JP`: {Report: good.Report, Pictures: []Picture{{File: "cut", Data: smallJPEG(t)[:20]}}},
	} {
		for _, write := range []func(io.Writer) error{s.WriteHTML, s.WritePDF} {
			var b bytes.Buffer
			err := write(&b)
			var input *InputError
			require.True(t, errors.As(err, &input), "%s: %v", says, err)
			assert.Contains(t, err.Error(), says)
			assert.NotContains(t, err.Error(), "\n")
			assert.Zero(t, b.Len())
		}
	}
}

// failing is a full disk.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

func TestAFailingWriterIsReported(t *testing.T) {
	s := example()
	assert.ErrorIs(t, s.WriteHTML(failing{}), io.ErrShortWrite)
	assert.ErrorIs(t, s.WritePDF(failing{}), io.ErrShortWrite)
}

// luminance and the ratio are those of WCAG 2.1, "relative luminance" and "contrast
// ratio".
func luminance(c drawing.Colour) float64 {
	linear := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.03928 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

func contrast(a, b drawing.Colour) float64 {
	light, dark := luminance(a), luminance(b)
	if light < dark {
		light, dark = dark, light
	}
	return (light + 0.05) / (dark + 0.05)
}

func TestColoursStandOutFromPaper(t *testing.T) {
	for name, c := range map[string]drawing.Colour{"ink": ink, "muted": muted, "good": good, "bad": bad, "unsure": unsure} {
		assert.GreaterOrEqual(t, contrast(c, drawing.White), 4.5, name+": text")
	}
	for name, c := range map[string]drawing.Colour{"rings": ringInk, "burn": burnInk, "limit": limInk, "pointer": redDot} {
		assert.GreaterOrEqual(t, contrast(c, drawing.White), 3.0, name+": drawn")
	}
	assert.GreaterOrEqual(t, contrast(burnInk, scorch), 3.0, "the outline on the burn")
	assert.GreaterOrEqual(t, contrast(ink, scorch), 3.0, "the offset's line on the burn")
}

// What the PDF cannot show is named with its field, each once; HTML has it.
func TestWhatAPDFCannotShowIsNamed(t *testing.T) {
	s := withPictures(t, example())
	require.Empty(t, s.Unshown())
	s.Report.Job.Technician, s.Report.Job.Site = "山田", "Łódź, Русская улица"
	s.Report.Job.Notes = "first line\nورشة"
	s.Report.Stations[0].Station, s.Pictures[0].Station = "左後", "左後"
	s.Report.Unassigned[0].Photo.File = "写真.jpg"
	assert.ElementsMatch(t, []string{`technician "山田"`, `notes "ورشة"`, `station "左後"`, `photo "写真.jpg"`}, s.Unshown())
	assert.Contains(t, textOf(t, s), "山田")
}
