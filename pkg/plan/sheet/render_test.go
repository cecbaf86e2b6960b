package sheet

import (
	"bytes"
	"encoding/xml"
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

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/needs"
	"burngauge.dev/burngauge/pkg/plan"
	"burngauge.dev/burngauge/pkg/printing"
)

func need(t *testing.T, tool, debian string) {
	t.Helper()
	needs.Program(t, tool, debian)
}

func run(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(name, args...).CombinedOutput()
	require.NoError(t, err, string(out))
	return string(out)
}

// pdfOf writes the sheet into a file.
func pdfOf(t *testing.T, s Sheet) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, s.WritePDF(&b))
	path := filepath.Join(t.TempDir(), "plan.pdf")
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o600))
	return path
}

// word is one on a page, by poppler, in points.
type word struct {
	left, top, right, bottom float64
	text                     string
}

var (
	pagePattern = regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)">`)
	wordPattern = regexp.MustCompile(`<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>`)
)

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return v
}

// words are those of each page, and the pages' size.
func words(t *testing.T, s Sheet) (pages [][]word, wide, tall float64) {
	t.Helper()
	need(t, "pdftotext", "poppler-utils")
	for _, page := range strings.Split(run(t, "pdftotext", "-bbox", pdfOf(t, s), "-"), "</page>") {
		size := pagePattern.FindStringSubmatch(page)
		if size == nil {
			continue
		}
		wide, tall = number(t, size[1]), number(t, size[2])
		var list []word
		for _, m := range wordPattern.FindAllStringSubmatch(page, -1) {
			list = append(list, word{number(t, m[1]), number(t, m[2]), number(t, m[3]), number(t, m[4]), m[5]})
		}
		pages = append(pages, list)
	}
	return pages, wide, tall
}

// every is a sheet of each status, and one with long words everywhere.
func every() map[string]Sheet {
	beyond := example()
	beyond.Plan.Status = plan.StatusBeyond
	return map[string]Sheet{"turn": example(), "nothing": of(plan.StatusNothing), "fire": of(plan.StatusFire, "middle", "rear-left"),
		"beyond": beyond, "beyond, no turns": of(plan.StatusBeyond), "hostile": hostile(strings.Repeat("Wide", 60)), "flood": hostile(strings.Repeat("Wide and ", 40))}
}

// Nothing leaves the margins, and no two words lie on each other.
func TestNothingIsClippedOrOverprinted(t *testing.T) {
	const least = margin*72/25.4 - 1 // points
	for name, s := range every() {
		for _, p := range printing.Papers() {
			s.Paper = p
			pages, wide, tall := words(t, s)
			require.NotEmpty(t, pages)
			for i, list := range pages {
				for j, a := range list {
					where := name + ", " + p + ", page " + strconv.Itoa(i+1) + ": " + a.text
					require.True(t, a.left >= least && a.right <= wide-least && a.top >= least-4 && a.bottom <= tall-least+4, "%s leaves the margins", where)
					for _, b := range list[j+1:] {
						across := min(a.right, b.right) - max(a.left, b.left)
						height := min(a.bottom, b.bottom) - max(a.top, b.top)
						if across > 0.5 && height > 0.5*min(a.bottom-a.top, b.bottom-b.top) {
							t.Fatalf("%s lies on %q", where, b.text)
						}
					}
				}
			}
		}
	}
}

// Sizes: ISO 216 and 8.5 x 11 inches, in points of 1/72 inch.
func TestPapersAreOfTheirSize(t *testing.T) {
	need(t, "pdfinfo", "poppler-utils")
	for p, want := range map[string]string{"": `595\.2\d* x 841\.8\d* pts`, printing.A4: `595\.2\d* x 841\.8\d* pts`, printing.Letter: `612 x 792 pts`} {
		s := example()
		s.Paper = p
		assert.Regexp(t, want, run(t, "pdfinfo", pdfOf(t, s)), p)
	}
}

// flat is text without blanks and line ends, which a layout puts in.
func flat(text string) string { return strings.Join(strings.Fields(text), "") }

// Terminal, PDF and SVG say the same.
func TestAllThreeSayTheSame(t *testing.T) {
	need(t, "pdftotext", "poppler-utils")
	for name, s := range every() {
		if name == "flood" || name == "hostile" {
			continue // broken words stand in another order in each
		}
		var terminal, svg bytes.Buffer
		require.NoError(t, s.WriteText(&terminal, false))
		require.NoError(t, s.WriteSVG(&svg))
		c := newContent(s)
		want := append([]string{c.Title, c.Headline, c.Lead}, append(c.Facts, c.Cautions...)...)
		want = append(append(want, c.Again.Words), c.Expect.Notes...)
		for _, st := range c.Steps {
			want = append(want, st.View)
		}
		for _, f := range c.Findings {
			want = append(want, f.Text, f.Evidence)
		}
		for _, r := range c.Expect.Rows {
			want = append(want, r.Cells...)
		}
		bullets := strings.NewReplacer("\n  - ", " ", "\n    ", " ")
		texts := map[string]string{"terminal": flat(bullets.Replace(terminal.String())), "SVG": flat(svgText(t, svg.Bytes())), "PDF": flat(run(t, "pdftotext", "-raw", pdfOf(t, s), "-"))}
		for form, text := range texts {
			for _, w := range want {
				// Page breaks put a footer into the middle of what is read.
				if form == "PDF" && !strings.Contains(text, flat(w)) && len(w) > 60 {
					continue
				}
				assert.Contains(t, text, flat(w), "%s as %s", name, form)
			}
		}
	}
}

// svgText is the text of an SVG, which must be well-formed.
func svgText(t *testing.T, data []byte) string {
	t.Helper()
	var out strings.Builder
	for d := xml.NewDecoder(bytes.NewReader(data)); ; {
		token, err := d.Token()
		if err == io.EOF {
			return out.String()
		}
		require.NoError(t, err)
		if words, ok := token.(xml.CharData); ok {
			out.Write(words)
			out.WriteByte(' ')
		}
	}
}

func TestTheSVGIsWellFormedWhateverTheWords(t *testing.T) {
	s := hostile(`<script>&"'` + "\x00\xff")
	var b bytes.Buffer
	require.NoError(t, s.WriteSVG(&b))
	assert.NotContains(t, b.String(), "<script>")
	assert.NotEmpty(t, svgText(t, b.Bytes()))
}

func TestTheSamePlanGivesTheSameBytes(t *testing.T) {
	var a, b bytes.Buffer
	require.NoError(t, example().WritePDF(&a))
	require.NoError(t, example().WritePDF(&b))
	assert.Equal(t, a.Bytes(), b.Bytes())
}

// rendered is the first page as poppler draws it, 5 px a mm.
func rendered(t *testing.T, s Sheet) image.Image {
	t.Helper()
	need(t, "pdftoppm", "poppler-utils")
	path := pdfOf(t, s)
	base := strings.TrimSuffix(path, ".pdf")
	run(t, "pdftoppm", "-r", "127", "-gray", "-png", "-singlefile", path, base)
	file, err := os.Open(base + ".png")
	require.NoError(t, err)
	defer file.Close()
	picture, err := png.Decode(file)
	require.NoError(t, err)
	return picture
}

// darkness is the share of dark pixels in a square of x, y plus or minus r, mm.
func darkness(picture image.Image, x, y, r float64) float64 {
	dark, all := 0.0, 0.0
	for py := int((y - r) * 5); py <= int((y+r)*5); py++ {
		for px := int((x - r) * 5); px <= int((x+r)*5); px++ {
			all++
			if v, _, _, _ := picture.At(px, py).RGBA(); v < 0x6000 {
				dark++
			}
		}
	}
	return dark / all
}

// On the rendered page, the screw to turn is black, the others are hollow, and
// each lies where the profile has it: right and up of the middle as seen from behind.
func TestTheScrewToTurnIsBlackWhereTheProfileHasIt(t *testing.T) {
	for turning, place := range map[string][2]float64{"A": {-18, 18}, "B": {18, 18}, "C": {-18, -18}} {
		s := example()
		s.Plan.Turns = []plan.Turn{{Mirror: "2", Screw: turning, Turns: 0.25}}
		pages, _, _ := words(t, s)
		var letters = map[string]word{}
		for _, w := range pages[0] {
			if len(w.text) == 1 && strings.Contains("ABC", w.text) && w.left < (margin+drawnWide)*72/25.4 {
				letters[w.text] = w
			}
		}
		require.Len(t, letters, 3)
		middle := func(w word) (x, y float64) {
			return (w.left + w.right) / 2 * 25.4 / 72, (w.top + w.bottom) / 2 * 25.4 / 72
		}
		ax, ay := middle(letters["A"])
		bx, _ := middle(letters["B"])
		_, cy := middle(letters["C"])
		assert.Greater(t, bx-ax, 15.0, "B lies right of A")
		assert.Greater(t, cy-ay, 15.0, "C lies below A")
		picture := rendered(t, s)
		for name, w := range letters {
			x, y := middle(w)
			if share := darkness(picture, x, y, 1.8); name == turning {
				assert.Greater(t, share, 0.5, "%s at %v", name, place)
			} else {
				assert.Less(t, share, 0.4, "%s beside %s", name, turning)
			}
		}
	}
}
