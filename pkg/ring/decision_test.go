package ring

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/decision"
	"burngauge.dev/burngauge/pkg/ring/scenes"
	"burngauge.dev/burngauge/pkg/target"
)

// decided are the decisions about whole targets, about one with a single ring and
// about a bare rim: between them they pass every limit that is recorded.
func decided(t *testing.T) []decision.Decision {
	t.Helper()
	log := decision.NewLog()
	fit, _ := foundWith(t, cornered[3], log)
	fit.BarFits("the bar does not fit")
	fit.UnknownLine()

	bare := *fit
	bare.traces = []trace{{kind: rimFeature, px: fit.Pixel(0, 0)}}
	require.True(t, bare.RimOnly())
	bare.spread = fit.spread
	bare.BarFits("the bar does not fit")

	one := target.Default()
	one.RingsMM = []float64{one.RingsMM[len(one.RingsMM)-1]}
	foundWith(t, scenes.View{Spec: one, Tilt: 15, Toward: 75, Roll: 20}, log)
	return log.Decisions()
}

// Each decision has the name of a field of Settings and is held against its value;
// and each name in the code is one that is recorded.
func TestEachDecisionIsNamedAfterItsSetting(t *testing.T) {
	settings := reflect.ValueOf(DefaultSettings())
	var seen []string
	for _, d := range decided(t) {
		name, ok := strings.CutPrefix(d.Name, "ring.")
		require.True(t, ok, d.Name)
		field := settings.FieldByName(name)
		require.True(t, field.IsValid(), "%s is no field of Settings", name)
		want := field.Convert(reflect.TypeOf(0.0)).Float()
		require.Equal(t, want, d.Limit, d.Name)
		if !slices.Contains(seen, name) {
			seen = append(seen, name)
		}
	}
	assert.ElementsMatch(t, namedInCode(t), seen)
}

// namedInCode are the names of decisions in the package's own files.
func namedInCode(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	var names []string
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, m := range regexp.MustCompile(`(?:Above|Below|Tally)\("ring\.(\w+)"`).FindAllSubmatch(text, -1) {
			if name := string(m[1]); !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}

func TestALogChangesNoFit(t *testing.T) {
	with, _ := foundWith(t, cornered[3], decision.NewLog())
	without, _ := foundWith(t, cornered[3], nil)
	assert.Equal(t, without.model, with.model)
	assert.Equal(t, without.cov, with.cov)
}

// Where nothing may be taken for a ring, none is; where edges may be few, all are.
func TestSettingsDecide(t *testing.T) {
	set := DefaultSettings()
	set.LeastStrength = 1e6
	f, _, photo := begun(t, cornered[2])
	f.WithSettings(set).Cut(photo)
	log := decision.NewLog()
	f.Log = log
	require.ErrorIs(t, f.Refine(), errFit)
	last := log.Decisions()[len(log.Decisions())-1]
	assert.Equal(t, "ring.LeastFirstTraces", last.Name)
	assert.True(t, last.Holds)
}
