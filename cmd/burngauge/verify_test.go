package main

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/report"
)

// surveyed is a folder with a few photos of the round and their report.
func surveyed(t *testing.T) (path string) {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"middle.jpeg", "rear-right (2).jpg"} {
		data, err := os.ReadFile(filepath.Join("../../fixtures/survey", name))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), data, 0o644))
	}
	path = filepath.Join(dir, "report.json")
	_, talk, code := call("survey", dir, "--stations", "middle,rear-right", "-o", path)
	require.Zero(t, code, talk)
	return path
}

// The edits of which each needs the real photos to be found; the digest is made
// anew by WriteFile. pkg/survey has all the others.
func TestVerifyFindsEditsByMeasuringAgain(t *testing.T) {
	path := surveyed(t)
	edits := map[string]func(r *report.Report){
		"offset.right_mm": func(r *report.Report) { r.Stations[0].Burn.Offset.RightMM += 0.001; fit(r.Stations[0].Burn) },
		"middle, burn in": func(r *report.Report) { r.Target.RingsMM[0] = 4.1 },
		"verdict":         func(r *report.Report) { r.Stations[1].Burn.Verdict.State = "inside"; r.Judge() },
		"limit":           func(r *report.Report) { r.LimitMM = 3 },
		"middle":          func(r *report.Report) { r.Stations[0].Station = "front-left"; r.Expected[0] = "front-left" },
	}
	for named, edit := range edits {
		r, err := report.ReadFile(path)
		require.NoError(t, err)
		edit(r)
		edited := filepath.Join(filepath.Dir(path), "edited.json")
		require.NoError(t, r.WriteFile(edited))
		out, talk, code := call("verify", edited)
		assert.Equal(t, 4, code, named)
		assert.Contains(t, out, named)
		assert.Contains(t, talk, "between "+edited+" and its photos")
	}
}

// fit makes the distance fit an edited offset, as a careful forger would.
func fit(m *report.Measurement) {
	m.Offset.DistanceMM = math.Hypot(m.Offset.RightMM, m.Offset.UpMM)
}

func TestAReportOfAnotherVersionIsVerifiedWithATolerance(t *testing.T) {
	path := surveyed(t)
	r, err := report.ReadFile(path)
	require.NoError(t, err)
	r.Tool.Version = "0.0.1"
	r.Stations[0].Burn.Warnings = append(r.Stations[0].Burn.Warnings, report.Warning{Code: "old", Text: "an older program's"})
	require.NoError(t, r.WriteFile(path))
	out, talk, code := call("verify", path)
	assert.Zero(t, code, out)
	assert.Contains(t, talk, "the report is of burngauge 0.0.1 with OpenCV ")
	assert.Contains(t, talk, "with the tolerance of the stated radius")
}
