package measure

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/spot/burn"
	"burngauge.dev/burngauge/pkg/spot/flat"
	"burngauge.dev/burngauge/pkg/spot/pointer"
	"burngauge.dev/burngauge/pkg/spot/scene"
	"burngauge.dev/burngauge/pkg/studio"
)

// packages are the packages whose decisions are recorded here, with their settings
// and their sources.
var packages = map[string]struct {
	settings any
	sources  string
}{
	"burn":    {burn.DefaultSettings(), "../spot/burn"},
	"pointer": {pointer.DefaultSettings(), "../spot/pointer"},
	"flat":    {flat.DefaultSettings(), "../spot/flat"},
	"measure": {DefaultSettings(), "."},
}

// field is the settings' field that a decision is named after.
func field(t *testing.T, name string) reflect.Value {
	t.Helper()
	pkg, of, ok := strings.Cut(name, ".")
	require.True(t, ok, name)
	v := reflect.ValueOf(packages[pkg].settings).FieldByName(of)
	require.True(t, v.IsValid(), "%s is no field of the settings of %s", name, pkg)
	return v
}

func number(v reflect.Value) float64 {
	if v.CanInt() {
		return float64(v.Int())
	}
	return v.Float()
}

// scenes are photos that take different ways through the packages.
func scenes() map[string]*photo.Photo {
	dot := studio.Pointer{Right: 2.5, Up: -2.4, LongMM: 0.5, ShortMM: 0.45, Strength: 5, Glow: 0.03, SpeckleMM: 0.1}
	with := func(burns []studio.Burn, dots []studio.Pointer) *photo.Photo {
		return scene.Photo(func(s *studio.Scene) { s.Burns, s.Pointers = burns, dots })
	}
	return map[string]*photo.Photo{
		"burn and dot": with([]studio.Burn{scene.Disc(-0.9, 0.8, 2.4)}, []studio.Pointer{dot}),
		"two burns":    with([]studio.Burn{scene.Disc(-1.9, 0.6, 2), scene.Disc(1.8, -0.9, 2)}, nil),
		"fresh tape":   with(nil, nil),
	}
}

// explained measures both marks with their decisions.
func explained(ph *photo.Photo) []report.Measurement {
	opt := DefaultOptions()
	opt.Mark, opt.Explain = Both, true
	return Photo(ph, opt).Measurements
}

// Whoever reads a decision must find its line and its number by its name.
func TestEveryDecisionHasItsNameAndLimitFromASetting(t *testing.T) {
	met := map[string]bool{}
	for name, ph := range scenes() {
		for _, m := range explained(ph) {
			for _, d := range m.Decisions {
				pkg, _, _ := strings.Cut(d.Name, ".")
				if _, ours := packages[pkg]; !ours {
					continue // of finding the target
				}
				met[pkg] = true
				assert.Equal(t, number(field(t, d.Name)), d.Limit, "%s: %s", name, d.Name)
				assert.NotEmpty(t, d.Then, d.Name)
				assert.LessOrEqual(t, d.Holding, d.Of, d.Name)
			}
		}
	}
	assert.Len(t, met, len(packages))
}

// The same for the lines that no scene reaches: the names in the sources.
func TestEveryNameInTheSourcesIsASetting(t *testing.T) {
	for pkg, r := range packages {
		names := regexp.MustCompile(fmt.Sprintf(`"(%s\.[A-Z]\w*)"`, pkg))
		files, err := filepath.Glob(filepath.Join(r.sources, "*.go"))
		require.NoError(t, err)
		found := 0
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			source, err := os.ReadFile(file)
			require.NoError(t, err)
			for _, m := range names.FindAllSubmatch(source, -1) {
				field(t, string(m[1]))
				found++
			}
		}
		assert.Positive(t, found, pkg)
	}
}

// The decision that made a refusal names its code.
func TestADecisionNamesTheRefusal(t *testing.T) {
	m := explained(scenes()["two burns"])[0]
	require.Equal(t, report.Refused, m.Status)
	require.Equal(t, "two-marks", m.Refusal.Code)
	var outcomes []string
	for _, d := range m.Decisions {
		outcomes = append(outcomes, d.Outcome)
	}
	assert.Contains(t, strings.Join(outcomes, "\n"), "refused: two-marks")
}

// Recording changes no number, and comes out alike each time although levels of
// light are searched side by side.
func TestExplainingChangesNothing(t *testing.T) {
	ph := scenes()["burn and dot"]
	opt := DefaultOptions()
	opt.Mark = Both
	plain := Photo(ph, opt).Measurements
	first, second := explained(ph), explained(ph)
	assert.Equal(t, written(t, first), written(t, second))
	for i := range first {
		assert.Nil(t, plain[i].Decisions)
		assert.NotEmpty(t, first[i].Decisions)
		first[i].Decisions = nil
	}
	assert.Equal(t, written(t, plain), written(t, first))
}

// written is the list as JSON, which is held against its schema as it is written.
func written(t *testing.T, list []report.Measurement) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, report.WriteJSON(&b, list))
	return b.String()
}
