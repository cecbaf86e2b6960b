package report

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func value(v float64) *float64 { return &v }

// invented decisions of one photo, whose frames were judged in turn.
func decisions() []Decision {
	frame := &[2]float64{401.4, 680.3}
	return []Decision{
		{Name: "search.LeastContrast", Value: value(2.71), Test: "<", Limit: 3, Then: "left out", Outcome: "left out", Of: 340, Holding: 12},
		{Name: "search.MostTilt", About: "frame 1", AtPX: frame, Value: value(31.2), Test: ">", Limit: 60, Then: "refused: too-tilted", Of: 1},
		{Name: "search.MostGlare", About: "frame 1", AtPX: frame, Value: value(0.19), Test: ">", Limit: 0.18, Then: "refused: glare", Outcome: "refused: glare", Of: 1, Holding: 1},
		{Name: "search.MostGlare", About: "frame 2", Value: value(0.21), Test: ">", Limit: 0.18, Then: "refused: glare", Outcome: "refused: glare", Of: 1, Holding: 1},
		{Name: "search.LeastArc", About: "frame 2", Test: "<", Limit: 0.25, Then: "refused: cut-off", Of: 1},
	}
}

func explained(t *testing.T, list ...Measurement) string {
	t.Helper()
	var out strings.Builder
	require.NoError(t, WriteExplanation(&out, list))
	return out.String()
}

func TestAnExplanationShowsTheLineThatRefused(t *testing.T) {
	m := Measurement{Photo: Photo{File: "a.jpg"}, Mark: "burn", Status: Refused, Refusal: &Refusal{"glare", "it shines: turn the lamp"}, Decisions: decisions()}
	assert.Equal(t, `a.jpg  burn  refused: glare
  decided: search.MostGlare 0.21 > 0.18: refused: glare; what it means: pkg/search/settings.go
  it shines: turn the lamp
  search
     search.LeastContrast  12 of 340 < 3; nearest 2.71  yes: left out
  search, frame 1 at 401, 680 px
     search.MostTilt       31.2 > 60                    no
     search.MostGlare      0.19 > 0.18                  yes: refused: glare
  search, frame 2
  => search.MostGlare      0.21 > 0.18                  yes: refused: glare
     search.LeastArc       nothing < 0.25               no
`, explained(t, m))
}

// The line that refused is never hidden among others.
func TestLinesThatAreTheSameAreWrittenOnceWithTheirNumber(t *testing.T) {
	d := decisions()
	m := Measurement{Photo: Photo{File: "a.jpg"}, Mark: "burn", Status: Refused, Refusal: &Refusal{"glare", "x"}, Decisions: []Decision{d[1], d[1], d[3], d[3], d[4], d[4], d[4], d[1]}}
	_, lines, _ := strings.Cut(explained(t, m), "  x\n")
	assert.Equal(t, `  search, frame 1 at 401, 680 px
     search.MostTilt   31.2 > 60       no (2 times)
  search, frame 2
     search.MostGlare  0.21 > 0.18     yes: refused: glare
  => search.MostGlare  0.21 > 0.18     yes: refused: glare
     search.LeastArc   nothing < 0.25  no (3 times)
  search, frame 1 at 401, 680 px
     search.MostTilt   31.2 > 60       no
`, lines)
}

// nameOfLimit is the name of a limit as the sources ask it.
var nameOfLimit = regexp.MustCompile(`(?:Above|Below|Tally)\("([a-z]+)\.([A-Z]\w*)"`)

func TestTheFileThatIsNamedHasTheLimit(t *testing.T) {
	const top = "../.."
	seen := map[string]bool{}
	require.NoError(t, filepath.WalkDir(filepath.Join(top, "pkg"), func(path string, _ fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		source, err := os.ReadFile(path)
		for _, m := range nameOfLimit.FindAllStringSubmatch(string(source), -1) {
			files, _ := filepath.Glob(filepath.Join(top, Decision{Name: m[1] + "." + m[2]}.settingsFile()))
			var text []byte
			for _, file := range files {
				more, err := os.ReadFile(file)
				require.NoError(t, err)
				text = append(text, more...)
			}
			assert.Regexp(t, `\b`+m[2]+`\b`, string(text), "%s in %s", m[0], files)
			seen[m[1]] = true
		}
		return err
	}))
	for _, name := range []string{"locate", "cause", "ring", "burn", "pointer"} {
		assert.True(t, seen[name], name)
	}
}

// A frame may be refused for one reason and the photo, in the end, for another.
func TestOnlyARefusalOfThePhotosOwnCodeHasDecided(t *testing.T) {
	m := Measurement{Photo: Photo{File: "a.jpg"}, Mark: "burn", Status: Refused, Refusal: &Refusal{"no-target", "x"}, Decisions: decisions()}
	out := explained(t, m)
	assert.True(t, strings.HasPrefix(out, "a.jpg  burn  refused: no-target\n"), out)
	assert.NotContains(t, out, "decided")
	assert.NotContains(t, out, "=>")
	m.Status, m.Refusal = Measured, nil
	assert.True(t, strings.HasPrefix(explained(t, m), "a.jpg  burn  measured\n"))
	assert.NotContains(t, explained(t, m), "=>")
}

func TestWhatTwoMarksShareIsExplainedOnce(t *testing.T) {
	burn := Measurement{Photo: Photo{File: "a.jpg"}, Mark: "burn", Status: Measured, Decisions: decisions()[:2]}
	pointer := burn
	pointer.Mark, pointer.Decisions = "pointer", append(decisions()[:2], Decision{Name: "pointer.LeastGlow", Value: value(5), Test: "<", Limit: 1, Then: "left out", Of: 1})
	out := explained(t, burn, pointer)
	assert.Equal(t, 1, strings.Count(out, "search.MostTilt"))
	assert.Contains(t, out, "\n\na.jpg  pointer  measured\n  the first 2 decisions are those above\n  pointer\n     pointer.LeastGlow  5 < 1  no\n")
	pointer.Photo.SHA256 = "another"
	assert.Equal(t, 2, strings.Count(explained(t, burn, pointer), "search.MostTilt"), "another photo's decisions are its own")
}

// When both marks are refused for the target, each block has the line that decided.
func TestTheDecidingLineIsNeverLeftOut(t *testing.T) {
	m := Measurement{Photo: Photo{File: "a.jpg"}, Mark: "burn", Status: Refused, Refusal: &Refusal{"glare", "x"}, Decisions: decisions()}
	both := []Measurement{m, m}
	both[1].Mark = "pointer"
	assert.Equal(t, 2, strings.Count(explained(t, both...), "=> search.MostGlare"))
}

func TestAPhotoWithoutDecisionsSaysSo(t *testing.T) {
	m := Measurement{Photo: Photo{File: "a.jpg"}, Mark: "burn", Status: Unreadable, Refusal: &Refusal{"empty", "the file is empty"}}
	assert.Equal(t, "a.jpg  burn  unreadable: empty\n  the file is empty\n  no decision was recorded\n", explained(t, m))
}

func TestDecisionsAreInTheJSONWhenThereAreAnyAndFitTheSchema(t *testing.T) {
	with, without := refused(), refused()
	with.Decisions = decisions()
	var out strings.Builder
	require.NoError(t, WriteJSON(&out, []Measurement{with, without}))
	assert.Equal(t, 1, strings.Count(out.String(), `"decisions"`))
	back, err := ReadMeasurements(strings.NewReader(out.String()))
	require.NoError(t, err)
	assert.Equal(t, decisions(), back[0].Decisions)
	for _, edit := range [][2]string{{`"test": "<"`, `"test": "="`}, {`"of": 340`, `"of": 0`}, {`"limit": 60`, `"limit": null`}, {`"outcome": "left out",`, ``}} {
		require.Contains(t, out.String(), edit[0])
		_, err := ReadMeasurements(strings.NewReader(strings.Replace(out.String(), edit[0], edit[1], 1)))
		assert.Error(t, err, edit[1])
	}
}

func TestTheCodeOfARefusalIsReadFromWhatFollows(t *testing.T) {
	for then, code := range map[string]string{
		"refused: no-mark": "no-mark", "refused: no-mark, past the printed lines": "no-mark", "refused: glare (a veil)": "glare",
		"left out": "", "not refused: glare": "", "": "",
	} {
		assert.Equal(t, code, Decision{Then: then}.RefusalCode(), then)
	}
	m := Measurement{Photo: Photo{File: "a.jpg"}, Mark: "burn", Status: Refused, Refusal: &Refusal{"no-mark", "x"}, Decisions: []Decision{
		{Name: "burn.MostOpenNear", Value: value(2), Test: ">", Limit: 1, Then: "refused: no-mark, past the lines", Outcome: "refused: no-mark, past the lines", Of: 1, Holding: 1}}}
	assert.Contains(t, explained(t, m), "  decided: burn.MostOpenNear 2 > 1: refused: no-mark, past the lines; what it means: pkg/spot/burn/settings.go\n")
}
