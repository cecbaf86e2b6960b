package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
)

// call runs the program within this process.
func call(args ...string) (stdout, stderr string, code int) {
	var out, talk bytes.Buffer
	code = run(strings.NewReader(""), &out, &talk, args)
	return out.String(), talk.String(), code
}

// starter is a file with the starter profile.
func starter(t *testing.T, dir string) string {
	t.Helper()
	path := filepath.Join(dir, "machine.yaml")
	require.NoError(t, os.WriteFile(path, machine.StarterYAML(), 0o600))
	return path
}

// fired writes the report of what the bench's beam does now.
func fired(t *testing.T, b *rehearsal.Bench, path string) {
	t.Helper()
	var burns []burn
	for _, s := range b.Spots() {
		burns = append(burns, burn{s.Station, s.RightMM, s.UpMM})
	}
	require.NoError(t, reportOf(burns).WriteFile(path))
}

// followed turns the bench's screws as the plan's file says.
func followed(t *testing.T, b *rehearsal.Bench, path string) {
	t.Helper()
	file, err := os.Open(path)
	require.NoError(t, err)
	defer file.Close()
	p, err := rehearsal.ReadPlan(file)
	require.NoError(t, err)
	require.NoError(t, b.TurnAll(p.Turns))
}

// From report to turned screws by way of files alone, against a machine that
// traces its rays with code of its own: after one round every spot is inside.
func TestAPlanThatIsFollowedBringsEverySpotInside(t *testing.T) {
	for seed := range uint64(8) {
		dir := t.TempDir()
		b, err := rehearsal.NewBench(machine.Default(), seed+1, rehearsal.Easy)
		require.NoError(t, err)
		reportPath, planPath := filepath.Join(dir, "report.json"), filepath.Join(dir, "plan.json")
		fired(t, b, reportPath)
		_, talk, code := call("plan", reportPath, "--machine", starter(t, dir), "-o", planPath)
		require.Zero(t, code, talk)
		followed(t, b, planPath)
		for _, s := range b.Spots() {
			assert.Less(t, s.Distance(), limitMM, "seed %d, %s", seed+1, s.Station)
		}
	}
}

// The table of `machine check` against the simulated machine's own ray trace: an
// eighth of a turn there moves the spot by an eighth of what the table says of a
// whole one.
func TestTheResponseIsWhatTheSimulatedMachineDoes(t *testing.T) {
	const tolerance = 0.02 // mm an eighth of a turn; the beam's path bends a little over it
	out, talk, code := call("machine", "check", starter(t, t.TempDir()), "--json")
	require.Zero(t, code, talk)
	var file responseFile
	require.NoError(t, json.Unmarshal([]byte(out), &file))
	require.Len(t, file.Response, 45)
	profile := machine.Default()
	for _, r := range file.Response {
		b := rehearsal.Assemble(profile, 1, rehearsal.NoFaults(profile))
		before := spotAt(t, b, r.Station)
		require.NoError(t, b.Turn(r.Mirror, r.Screw, 0.125))
		after := spotAt(t, b, r.Station)
		where := fmt.Sprintf("%s %s/%s", r.Station, r.Mirror, r.Screw)
		assert.InDelta(t, after.RightMM-before.RightMM, r.RightMMPerTurn/8, tolerance, where)
		assert.InDelta(t, after.UpMM-before.UpMM, r.UpMMPerTurn/8, tolerance, where)
	}
	for _, n := range file.Nominal {
		b := rehearsal.Assemble(profile, 1, rehearsal.NoFaults(profile))
		s := spotAt(t, b, n.Station)
		assert.InDelta(t, s.RightMM, n.RightMM, 1e-6)
		assert.InDelta(t, s.UpMM, n.UpMM, 1e-6)
	}
}

func spotAt(t *testing.T, b *rehearsal.Bench, station string) rehearsal.Spot {
	t.Helper()
	for _, s := range b.Spots() {
		if s.Station == station {
			return s
		}
	}
	t.Fatalf("no station %s", station)
	return rehearsal.Spot{}
}

func TestAFullDiskHasItsExitCode(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("this system has no /dev/full")
	}
	defer full.Close()
	var talk bytes.Buffer
	assert.Equal(t, 6, run(nil, full, &talk, []string{"machine", "new"}))
	assert.Contains(t, talk.String(), "no space left on device")
}

func TestPairsAreCutAtTheColonBetweenFiles(t *testing.T) {
	dir := t.TempDir()
	report, plan := filepath.Join(dir, "C:r.json"), filepath.Join(dir, "p:1.json")
	for _, path := range []string{report, plan} {
		require.NoError(t, os.WriteFile(path, nil, 0o600))
	}
	a, b, ok := splitPair(report + ":" + plan)
	assert.True(t, ok)
	assert.Equal(t, [2]string{report, plan}, [2]string{a, b})
	for _, wrong := range []string{"", ":", "a:", ":b", "a"} {
		_, _, ok := splitPair(wrong)
		assert.False(t, ok, wrong)
	}
}
