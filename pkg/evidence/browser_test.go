package evidence

import (
	"encoding/json"
	"fmt"
	"image"
	"io"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/drawing/drawingtest"
	"burngauge.dev/burngauge/pkg/needs"
	"burngauge.dev/burngauge/pkg/report"
)

// chromium loads a page without a window.
func chromium(t *testing.T, args ...string) string {
	t.Helper()
	needs.Program(t, "chromium", "chromium")
	base := []string{"--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--no-first-run", "--user-data-dir=" + t.TempDir()}
	return drawingtest.Run(t, "chromium", append(base, args...)...)
}

// measured is what a frame of a given width says about the sheet in it.
type measured struct {
	Width  float64    // of the frame
	Scroll float64    // of the content: more than Width when it sticks out
	Wide   []string   // elements that end beyond the frame
	Broken int        // pictures that were not shown
	Mini   [4]float64 // left, top, width and height of the first miniature
	Below  bool       // front-left lies below rear-left and left of front-right
	Small  float64    // the smallest text, px
}

// frameHTML holds the sheet in frames as wide as the screens to be tried, since
// a window cannot be made that narrow, and writes what it measures into the page.
const frameHTML = `<!DOCTYPE html><title>frames</title><body style="margin:0">%s
<pre id="out"></pre><script>
const measure = f => {
  const d = f.contentDocument, all = [...d.body.querySelectorAll('*')], w = d.documentElement.clientWidth;
  const at = s => d.querySelector(s)?.getBoundingClientRect();
  const shown = all.filter(e => !e.closest('svg') && e.closest('thead') === null);
  const m = at('svg.mini'), rl = at('.rear-left'), fl = at('.front-left'), fr = at('.front-right');
  return {
    Width: w, Scroll: d.documentElement.scrollWidth,
    Wide: shown.filter(e => e.getBoundingClientRect().right > w + 0.5).map(e => e.tagName + ' ' + e.textContent.slice(0, 30)),
    Broken: [...d.images].filter(i => !i.naturalWidth).length,
    Mini: [m.left, m.top, m.width, m.height],
    Below: !!rl && fl.top >= rl.bottom - 1 && fl.right <= fr.left + 1,
    Small: Math.min(...shown.filter(e => e.childNodes.length && e.innerText).map(e => parseFloat(d.defaultView.getComputedStyle(e).fontSize)))};
};
onload = () => { document.getElementById('out').textContent = JSON.stringify([...document.querySelectorAll('iframe')].map(measure)); };
</script>`

// serve offers the sheet, and the frame around it, on one origin.
func serve(t *testing.T, s Sheet, widths ...int) (address string) {
	t.Helper()
	page, frames := htmlOf(t, s), ""
	for _, width := range widths {
		frames += fmt.Sprintf(`<iframe src="/sheet" style="border:0;display:block;width:%dpx;height:3000px"></iframe>`, width)
	}
	mux := http.NewServeMux()
	mux.HandleFunc("/sheet", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		_, _ = io.WriteString(w, page)
	})
	mux.HandleFunc("/frame", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		fmt.Fprintf(w, frameHTML, frames)
	})
	server := httptest.NewServer(mux)
	t.Cleanup(server.Close)
	return server.URL + "/frame"
}

var outPattern = regexp.MustCompile(`<pre id="out">(.*?)</pre>`)

// inBrowser renders the sheet at each width and measures it.
func inBrowser(t *testing.T, s Sheet, widths ...int) []measured {
	t.Helper()
	dom := chromium(t, "--dump-dom", "--window-size=1400,1000", serve(t, s, widths...))
	found := outPattern.FindStringSubmatch(dom)
	require.NotNil(t, found, dom)
	var list []measured
	require.NoError(t, json.Unmarshal([]byte(unescape(found[1])), &list))
	require.Len(t, list, len(widths))
	return list
}

func unescape(text string) string {
	for from, to := range map[string]string{"&lt;": "<", "&gt;": ">", "&nbsp;": " "} {
		text = regexp.MustCompile(from).ReplaceAllString(text, to)
	}
	return regexp.MustCompile("&amp;").ReplaceAllString(text, "&")
}

func TestNothingSticksOutOnPhoneOrDesk(t *testing.T) {
	for name, s := range map[string]Sheet{"everything": withPictures(t, example()), "many": withPictures(t, crowd(17))} {
		widths := []int{320, 360, 1280}
		for i, m := range inBrowser(t, s, widths...) {
			assert.EqualValues(t, widths[i], m.Width)
			assert.LessOrEqual(t, m.Scroll, m.Width, "%s at %d px", name, widths[i])
			assert.Empty(t, m.Wide, "%s at %d px", name, widths[i])
			assert.Zero(t, m.Broken, "pictures that are not shown")
			assert.GreaterOrEqual(t, m.Small, 12.0, "text as small as this is hard to read on a phone")
			assert.Equal(t, name == "everything", m.Below, "stations where they lie on the bed")
		}
	}
}

// fitCircle is the algebraic fit of I. Kasa ("A circle fitting procedure and its
// error analysis", IEEE Trans. Instrum. Meas. 25, 1976): least squares of x2 + y2 + ax + by + c = 0.
func fitCircle(t *testing.T, points [][2]float64) (x, y, r float64) {
	t.Helper()
	require.Greater(t, len(points), 50, "too little was found of a circle")
	a, b := mat.NewDense(len(points), 3, nil), mat.NewVecDense(len(points), nil)
	for i, p := range points {
		a.SetRow(i, []float64{p[0], p[1], 1})
		b.SetVec(i, -(p[0]*p[0] + p[1]*p[1]))
	}
	var v mat.VecDense
	require.NoError(t, v.SolveVec(a, b))
	x, y = -v.AtVec(0)/2, -v.AtVec(1)/2
	return x, y, math.Sqrt(x*x + y*y - v.AtVec(2))
}

// pixels are the centres of those of a colour inside an area.
func pixels(picture image.Image, area image.Rectangle, c drawing.Colour) [][2]float64 {
	near := func(a uint32, b uint8) bool { return math.Abs(float64(a>>8)-float64(b)) < 20 }
	var out [][2]float64
	for y := area.Min.Y; y < area.Max.Y; y++ {
		for x := area.Min.X; x < area.Max.X; x++ {
			if r, g, b, _ := picture.At(x, y).RGBA(); near(r, c.R) && near(g, c.G) && near(b, c.B) {
				out = append(out, [2]float64{float64(x), float64(y)})
			}
		}
	}
	return out
}

// placeTolerance is about a pixel of the rendered miniatures, mm on the target.
const placeTolerance = 0.05

// checkPlace measures a miniature back from a picture of it: the limit's circle,
// whose radius is known, gives centre and scale, and the burn's outline must lie
// where the report says.
func checkPlace(t *testing.T, picture image.Image, area image.Rectangle, s Sheet) {
	t.Helper()
	x, y, r := fitCircle(t, pixels(picture, area, limInk))
	scale := r / s.Report.LimitMM
	bx, by, br := fitCircle(t, pixels(picture, area, burnInk))
	m := s.Report.Stations[0].Burn
	assert.InDelta(t, m.Offset.RightMM, (bx-x)/scale, placeTolerance, "right")
	assert.InDelta(t, m.Offset.UpMM, (y-by)/scale, placeTolerance, "up")
	assert.InDelta(t, m.Size.MajorMM/2, br/scale, placeTolerance, "radius")
}

// drawn are burns on each side of the centre, and the screens they are tried on.
var drawn = []struct {
	right, up, size float64
	screen          int
}{{1.5, -1, 3, 360}, {-2.25, 3.5, 2.4, 1280}}

func TestTheBrowserShowsTheBurnWhereItIs(t *testing.T) {
	for _, d := range drawn {
		s := single(d.right, d.up, report.Size{MajorMM: d.size, MinorMM: d.size})
		m := inBrowser(t, s, d.screen)[0]
		path := filepath.Join(t.TempDir(), "page.png")
		chromium(t, "--screenshot="+path, "--force-device-scale-factor=2", "--window-size=1400,1400", serve(t, s, d.screen))
		area := image.Rect(int(2*m.Mini[0]), int(2*m.Mini[1]), int(2*(m.Mini[0]+m.Mini[2])), int(2*(m.Mini[1]+m.Mini[3])))
		checkPlace(t, drawingtest.PNG(t, path), area, s)
	}
}

// Printed from the browser, the table keeps its words whole, map and table share
// the first page as in the PDF, and no page is empty.
func TestTheBrowserPrintsTheSheet(t *testing.T) {
	needs.Program(t, "pdftotext", "poppler-utils")
	s := withPictures(t, example())
	dir := t.TempDir()
	path := filepath.Join(dir, "sheet.html")
	save(t, path, func(f *os.File) error { return s.WriteHTML(f) })
	printed := filepath.Join(dir, "printed.pdf")
	chromium(t, "--print-to-pdf="+printed, "--no-pdf-header-footer", "file://"+path)
	pages := strings.Split(strings.TrimSuffix(drawingtest.Run(t, "pdftotext", "-layout", printed, "-"), "\f"), "\f")
	for _, want := range []string{"Alignment evidence", "The bed, seen from the front", "verdict", "0.966 ± 0.030", "2.623 ± 0.019", "95 of 100 cases"} {
		assert.Contains(t, pages[0], want)
	}
	assert.GreaterOrEqual(t, strings.Count(pages[0], "outside"), 6)
	assert.LessOrEqual(t, len(pages), 5)
	for i, page := range pages {
		assert.Greater(t, len(strings.Fields(page)), 40, "page %d is nearly empty", i+1)
	}
}
