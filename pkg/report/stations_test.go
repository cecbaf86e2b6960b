package report

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func stationsText(t *testing.T, r *Report, units Units) string {
	var b bytes.Buffer
	require.NoError(t, WriteStations(&b, r, units))
	return b.String()
}

// The goldens were read by eye, line by line, against the numbers in sample.
func TestStationsReadAsTheyShould(t *testing.T) {
	for _, units := range []Units{Millimetres, Inches} {
		isGolden(t, "stations-"+string(units)+".txt", stationsText(t, sample(), units))
	}
}

func TestTheVerdictIsTheLastLine(t *testing.T) {
	r := sample()
	lines := strings.Split(strings.TrimSpace(stationsText(t, r, Millimetres)), "\n")
	assert.Equal(t, "incomplete: "+r.Verdict.Text, lines[len(lines)-1])
}

func TestOnlyWhatWasAskedForIsShown(t *testing.T) {
	r := sample()
	r.Unassigned, r.Stations = nil, r.Stations[:1]
	r.Stations[0].Others, r.Stations[0].Pointer, r.Stations[0].BeamFromPointer = nil, nil, nil
	text := stationsText(t, r, Millimetres)
	for _, heading := range []string{"pointer at", "not taken", "of no station"} {
		assert.NotContains(t, text, heading)
	}
	pointer := sample().Stations[0].Pointer
	r = &Report{Expected: []string{"rear-left"}, Stations: []Station{{Station: "rear-left", Pointer: pointer}}}
	text = stationsText(t, r, Millimetres)
	assert.True(t, strings.HasPrefix(text, "pointer at"), text)
	assert.NotContains(t, text, "station  ")
}

func TestStrangeTextsDoNotSteerTheTerminalFromAReport(t *testing.T) {
	r := sample()
	evil := "a\x1b[31m\nb"
	r.Stations[0].Station, r.Stations[1].Photos[0], r.Unassigned[0].Photo.File, r.Unassigned[0].Reason = evil, evil, evil, evil
	r.Stations[2].Burn.Offset.Clock, r.Stations[0].Pointer.Photo.File, r.Expected[0], r.Verdict.Text = evil, evil, evil, evil
	assert.NotContains(t, stationsText(t, r, Millimetres), "\x1b")
	assert.NotContains(t, stationsText(t, r, Inches), "\x1b")
}

// The file that the examples read is the sample; it is written by -update too.
func TestTheExamplesFileIsTheSample(t *testing.T) {
	path := filepath.Join("testdata", "report.json")
	want := encoded(t, sample())
	if *update {
		require.NoError(t, os.WriteFile(path, want, 0o644))
	}
	got, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got))
}
