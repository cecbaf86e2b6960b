package target

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// exact is for results that differ from the hand-worked ones by rounding only.
const exact = 1e-12

// bar is the index that all built-in targets share.
var bar = Index{FromMM: 0.7, ToMM: 3.2, WidthMM: 1.3}

// The values are typed from the format's description, not read from the files.
func TestBuiltinTargetsHoldTheDimensionsThatTheFormatFixes(t *testing.T) {
	want := []Spec{
		{Name: "plain-4", RingsMM: []float64{4, 8, 12, 16}, RingsUMM: 0.02, LineMM: 0.3, CrossMM: 1.4, Index: bar, TapeMM: 0.12, TapeUMM: 0.04, Checked: "drawn"},
		{Name: "wide-3", RingsMM: []float64{6, 14, 24}, RingsUMM: 0.02, LineMM: 0.45, Index: bar, TapeMM: 0.12, TapeUMM: 0.04, Checked: "drawn"},
		{Name: "pair", RingsMM: []float64{5, 12}, RingsUMM: 0.02, LineMM: 0.35, CrossMM: 1, Index: bar, TapeMM: 0.12, TapeUMM: 0.04, Checked: "drawn"},
		{Name: "single", RingsMM: []float64{12}, RingsUMM: 0.02, LineMM: 1, Index: bar, TapeMM: 0.12, TapeUMM: 0.04, Checked: "drawn"},
		{Name: "rimmed", RingsMM: []float64{4, 8, 12, 16}, RingsUMM: 0.02, LineMM: 0.3, CrossMM: 1.4, RimMM: 26, Index: bar, TapeMM: 0.12, TapeUMM: 0.04, Checked: "drawn"},
	}
	require.Len(t, Names(), len(want))
	for i, spec := range want {
		assert.Equal(t, spec.Name, Names()[i])
		got, ok := Builtin(spec.Name)
		assert.True(t, ok, spec.Name)
		assert.Equal(t, spec, got)
	}
	assert.Equal(t, want[0], Default())
}

func TestBuiltinCopiesDoNotShareTheirRings(t *testing.T) {
	first, _ := Builtin("pair")
	first.RingsMM[0] = 99
	second, _ := Builtin("pair")
	assert.Equal(t, 5.0, second.RingsMM[0])
}

// Worked by hand from the definition: rings at radius 3, 7 and 12 mm.
func TestRingsCountsCirclesWithUnevenSpacing(t *testing.T) {
	wide, _ := Builtin("wide-3")
	cases := map[float64]float64{0: 0, 1.5: 0.5, 3: 1, 5: 1.5, 7: 2, 9.5: 2.5, 12: 3, 17: 4, 14.5: 3.5}
	for distance, rings := range cases {
		assert.InDelta(t, rings, wide.Rings(distance), exact, "%g mm", distance)
	}
}

// 0.97 mm on plain-4 is given as 0.48 rings in the format's example: 0.97 / 2 = 0.485.
func TestRingsOfTheFormatsExample(t *testing.T) {
	assert.InDelta(t, 0.485, Default().Rings(0.97), exact)
}

func TestSingleRingCountsByItsOwnRadius(t *testing.T) {
	single, _ := Builtin("single")
	assert.InDelta(t, 0.5, single.Rings(3), exact)
	assert.InDelta(t, 1, single.Rings(6), exact)
	assert.InDelta(t, 2.5, single.Rings(15), exact)
}

func TestRingsOfNaNIsNaN(t *testing.T) {
	assert.True(t, math.IsNaN(Default().Rings(math.NaN())))
}

func TestRingsRisesAndIsContinuous(t *testing.T) {
	const step = 0.001
	for _, name := range Names() {
		spec, _ := Builtin(name)
		steepest := 2 / spec.smallestGap() // rings per mm; the inner radius is half the first gap
		for d := step; d < 3*spec.OuterRadius(); d += step {
			rise := spec.Rings(d) - spec.Rings(d-step)
			require.Greater(t, rise, 0.0, "%s at %g mm", name, d)
			require.Less(t, rise, steepest*step*1.001, "%s at %g mm", name, d)
		}
	}
}

func TestRingsDoesNotDependOnTheTargetsSize(t *testing.T) {
	small, big := Default(), Default()
	for i := range big.RingsMM {
		big.RingsMM[i] *= 2.5
	}
	for d := 0.0; d < 20; d += 0.37 {
		assert.InDelta(t, small.Rings(d), big.Rings(2.5*d), exact)
	}
}

// Read off a clock face: the hour hand moves 30 degrees an hour.
func TestClockReadsLikeAClockFace(t *testing.T) {
	cases := []struct {
		right, up float64
		want      string
	}{
		{0, 1, "12:00"}, {1, 0, "3:00"}, {0, -1, "6:00"}, {-1, 0, "9:00"},
		{1, 1, "1:30"}, {1, -1, "4:30"}, {-1, -1, "7:30"}, {-1, 1, "10:30"},
		{0.5, math.Sqrt(3) / 2, "1:00"},                 // 30 degrees
		{math.Sqrt(3) / 2, 0.5, "2:00"},                 // 60 degrees
		{0.965925826289, 0.258819045103, "2:30"},        // 75 degrees
		{-0.44, 0.86, "11:00"},                          // the format's example
		{-0.1, 1, "12:00"},                              // 5.7 degrees before noon
		{math.Sin(-0.14), math.Cos(-0.14), "11:30"},     // 8.0 degrees before noon
		{1e-300, 0, "3:00"}, {-1e-300, -1e-300, "7:30"}, // tiny but not nothing
	}
	for _, c := range cases {
		assert.Equal(t, c.want, Clock(c.right, c.up), "right %g up %g", c.right, c.up)
	}
}

func TestClockHasNoDirectionAtTheCentre(t *testing.T) {
	assert.Equal(t, NoDirection, Clock(0, 0))
	assert.Equal(t, NoDirection, Clock(math.Copysign(0, -1), 0))
	assert.Equal(t, NoDirection, Clock(math.NaN(), 1))
}

func TestOppositePlacesAreSixHoursApart(t *testing.T) {
	for degrees := 0.25; degrees < 360; degrees += 0.5 { // never on the border of two half hours
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		here, there := halves(t, Clock(sin, cos)), halves(t, Clock(-sin, -cos))
		require.Equal(t, 12, (here-there+24)%24, "%g degrees", degrees)
		apart := math.Abs(math.Remainder(degrees-15*float64(here), 360))
		require.LessOrEqual(t, apart, 7.5, "%g degrees given as %s", degrees, Clock(sin, cos))
	}
}

// halves reads "2:30" as 5 half hours.
func halves(t *testing.T, clock string) int {
	var hour, minute int
	_, err := fmt.Sscanf(clock, "%d:%d", &hour, &minute)
	require.NoError(t, err)
	require.Contains(t, []int{0, 30}, minute)
	require.True(t, hour >= 1 && hour <= 12, clock)
	return hour%12*2 + minute/30
}

func TestLoadPrefersBuiltinsAndReadsFiles(t *testing.T) {
	spec, err := Load("wide-3")
	require.NoError(t, err)
	assert.Equal(t, "wide-3", spec.Name)

	path := filepath.Join(t.TempDir(), "mine.yaml")
	require.NoError(t, os.WriteFile(path, []byte(sound), 0o600))
	spec, err = Load(path)
	require.NoError(t, err)
	assert.Equal(t, []float64{4, 8}, spec.RingsMM)
	assert.Equal(t, "steel rule, 2026-03", spec.Checked)
}

func TestLoadNamesTheBuiltinsWhenNothingMatches(t *testing.T) {
	_, err := Load("plain4")
	require.Error(t, err)
	assert.Equal(t, `target spec "plain4": neither a built-in target nor a file: name one of the built-in targets (plain-4, wide-3, pair, single, rimmed) or a spec file`, err.Error())
}

func TestLoadRefusesFoldersEmptyNamesAndPhotos(t *testing.T) {
	folder := t.TempDir()
	photo := filepath.Join(folder, "photo.jpg")
	require.NoError(t, os.WriteFile(photo, make([]byte, maxSpecBytes+1), 0o600))
	for name, want := range map[string]string{folder: "this is a folder", "": "neither a built-in", photo: "not a target spec"} {
		_, err := Load(name)
		var spec *SpecError
		require.True(t, errors.As(err, &spec), "%q: %v", name, err)
		assert.Contains(t, err.Error(), want)
		assert.NotContains(t, err.Error(), "\n")
	}
}

func TestEveryFaultIsOneLineWithThePlaceAndTheKey(t *testing.T) {
	for _, c := range faults {
		_, err := Parse("mine.yaml", []byte(c.yaml))
		var spec *SpecError
		require.True(t, errors.As(err, &spec), "%s: %v", c.yaml, err)
		assert.True(t, strings.HasPrefix(err.Error(), "target spec mine.yaml"+c.place), "%s\n%v", c.yaml, err)
		assert.Contains(t, err.Error(), c.says, c.yaml)
		assert.NotContains(t, err.Error(), "\n", c.yaml)
	}
}
