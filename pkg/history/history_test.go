package history

import (
	"bytes"
	"encoding/xml"
	"image"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/drawing/drawingtest"
	"burngauge.dev/burngauge/pkg/report"
)

func TestHistoryIsInTheOrderOfTime(t *testing.T) {
	list := rounds(3)
	taken := []string{"2026-04-09T23:30:00-05:00", "2026-04-10T01:00:00+02:00", "2026-04-08T09:00:00Z"} // the first is the latest, though its clock says less than the next
	for i, r := range list {
		r.Created = "2026-11-20T08:00:00+01:00" // an archive, surveyed on one day
		for _, s := range r.Stations {
			if s.Burn != nil {
				s.Burn.Photo.Taken = taken[i]
			}
		}
	}
	given := slices.Clone(list)
	var b bytes.Buffer
	require.NoError(t, WriteTable(&b, list, report.Millimetres))
	text := b.String()
	assert.Less(t, strings.Index(text, "J-1"), strings.Index(text, "J-2"))
	assert.Less(t, strings.Index(text, "J-2"), strings.Index(text, "J-3"))
	assert.Equal(t, given, list, "the caller's list must not change")
	for _, want := range []string{"machine: bed 900 x 600, no. 17, 3 reports", "rear-left mm", "0.361 ± 0.050", "refused", "2026-04-09 23:30 middle: no number (cut-off): the target"} {
		assert.Contains(t, text, want)
	}
}

func TestWhatAChartCannotShowIsNamed(t *testing.T) {
	list := rounds(2)
	assert.Empty(t, Unshown(list))
	for _, r := range list {
		r.Job.Machine, r.Stations[0].Station = "機械 1", "左後"
	}
	assert.ElementsMatch(t, []string{`machine "機械 1"`, `station "左後"`}, Unshown(list))
}

func TestReportsOfSeveralMachinesAreSetApart(t *testing.T) {
	list := rounds(2)
	list[1].Job.Machine = "another\x1b[2J"
	var b bytes.Buffer
	require.NoError(t, WriteTable(&b, list, report.Inches))
	assert.Contains(t, b.String(), "warning: these reports are of 2 machines")
	assert.Contains(t, b.String(), "another\uFFFD[2J")
	assert.Contains(t, b.String(), "0.0142 ± 0.0020") // 0.361 and 0.050 mm by 25.4
	assert.NotContains(t, b.String(), "\x1b")
}

func TestHistoryWithoutATimeOrAReportIsRefused(t *testing.T) {
	bad := rounds(1)
	bad[0].Created = "yesterday"
	empty := rounds(1)
	for i := range empty[0].Stations {
		empty[0].Stations[i].Burn = nil
	}
	var b bytes.Buffer
	var input *InputError
	assert.ErrorAs(t, WriteTable(&b, nil, report.Millimetres), &input)
	assert.ErrorAs(t, WriteTable(&b, bad, report.Millimetres), &input)
	assert.ErrorAs(t, WriteSVG(&b, bad, report.Millimetres), &input)
	assert.ErrorAs(t, WritePNG(&b, empty, report.Millimetres), &input)
	assert.Zero(t, b.Len())
}

func TestTheChartNamesStationsSeriesAndDates(t *testing.T) {
	list := rounds(7)
	list[0].Stations[0].Station = `<script>&"`
	var b bytes.Buffer
	require.NoError(t, WriteSVG(&b, list, report.Millimetres))
	var text strings.Builder
	decoder := xml.NewDecoder(bytes.NewReader(b.Bytes()))
	for {
		token, err := decoder.Token()
		if err != nil {
			break
		}
		if e, ok := token.(xml.StartElement); ok {
			assert.NotEqual(t, "script", e.Name.Local)
		}
		if words, ok := token.(xml.CharData); ok {
			text.Write(words)
		}
	}
	for _, want := range []string{`<script>&", mm`, "front-left, mm", "middle, mm", "rear-right, mm", "2026-03-02", "2026-06-24",
		distanceSeries.words, rightSeries.words, upSeries.words, limitSeries.words, "Drift of bed 900 x 600, no. 17"} {
		assert.Contains(t, text.String(), want)
	}
	var again bytes.Buffer
	require.NoError(t, WriteSVG(&again, list, report.Millimetres))
	assert.Equal(t, b.Bytes(), again.Bytes())
}

// Marks and dashes differ, so that the chart is read without colour.
func TestSeriesDifferWithoutColour(t *testing.T) {
	list := []series{distanceSeries, rightSeries, upSeries, limitSeries}
	for i, a := range list {
		for _, b := range list[i+1:] {
			assert.NotEqual(t, a.mark.Shape, b.mark.Shape)
			assert.NotEqual(t, a.line.Dashes, b.line.Dashes)
		}
	}
}

// chartPNG is the chart of one station as a picture.
func chartPNG(t *testing.T, list []*report.Report) image.Image {
	t.Helper()
	return drawingtest.PNG(t, drawingtest.File(t, "drift.png", func(w io.Writer) error { return WritePNG(w, list, report.Millimetres) }))
}

// pixels are the places of a colour, or nearly that one.
func pixels(picture image.Image, area image.Rectangle, c drawing.Colour) (out [][2]float64) {
	near := func(a uint32, b uint8) bool { return math.Abs(float64(a>>8)-float64(b)) < 20 }
	for y := area.Min.Y; y < area.Max.Y; y++ {
		for x := area.Min.X; x < area.Max.X; x++ {
			if r, g, b, _ := picture.At(x, y).RGBA(); near(r, c.R) && near(g, c.G) && near(b, c.B) {
				out = append(out, [2]float64{float64(x), float64(y)})
			}
		}
	}
	return out
}

// The limit's lines at +2 and -2 mm give the scale; the mark of the distance
// must lie at its height.
func TestTheChartShowsTheDistanceAtItsHeight(t *testing.T) {
	for _, distance := range []float64{0.5, 1, 1.5} {
		r := round("2026-03-02T09:00:00Z", "one", mark("a", -distance, 0, 0.001))
		r.Expected, r.Stations = []string{"rear-left"}, r.Stations[:1]
		picture := chartPNG(t, []*report.Report{r})
		area := picture.Bounds()
		area.Min.Y = int(float64(headTall.Points()) / 72 * chartDPI) // below the legend
		top, bottom := area.Max.Y, 0
		left, right := area.Max.X, 0
		for _, p := range pixels(picture, area, limitInk) {
			top, bottom = min(top, int(p[1])), max(bottom, int(p[1]))
			left, right = min(left, int(p[0])), max(right, int(p[0]))
		}
		middle, perMM := float64(top+bottom)/2, float64(bottom-top-2)/4 // the lines are about 2.5 px thick
		inside := image.Rect(left, top+4, right, bottom-4)
		sum, n := 0.0, 0
		for _, p := range pixels(picture, inside, ink) {
			sum, n = sum+p[1], n+1
		}
		require.Greater(t, n, 50, "no mark")
		assert.InDelta(t, distance, (middle-sum/float64(n))/perMM, 0.03)
	}
}

// failing is a full disk.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

func TestAFailingWriterIsReported(t *testing.T) {
	for _, write := range []func(io.Writer, []*report.Report, report.Units) error{WriteTable, WriteSVG, WritePNG} {
		assert.ErrorIs(t, write(failing{}, rounds(2), report.Millimetres), io.ErrShortWrite)
	}
}
