package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
	"burngauge.dev/burngauge/pkg/studio"
	"burngauge.dev/burngauge/pkg/terminal"
)

// call runs the program within this process.
func call(args ...string) (stdout, stderr string, code int) {
	var out, talk bytes.Buffer
	code = run(strings.NewReader(""), &out, &talk, args)
	return out.String(), talk.String(), code
}

func TestTruthIsThatOfTheBenchAndGathersFires(t *testing.T) {
	dir := t.TempDir()
	bench, out := filepath.Join(dir, "bench"), filepath.Join(dir, "photos")
	_, talk, code := call("new", bench, "--seed", "3")
	require.Zero(t, code, talk)
	for _, station := range []string{"middle", "rear-left", "middle"} {
		_, talk, code = call("fire", bench, "-o", out, "--stations", station, "--megapixels", "1", "--truth", "--replace")
		require.Zero(t, code, talk)
	}
	data, err := os.ReadFile(filepath.Join(out, "truth.json"))
	require.NoError(t, err)
	var truth studio.TruthFile
	require.NoError(t, json.Unmarshal(data, &truth))
	require.Len(t, truth.Photos, 2, "the second photo of the middle replaced the first")
	f, err := open(bench)
	require.NoError(t, err)
	spots := map[string]rehearsal.Spot{}
	for _, s := range f.bench.Spots() {
		spots[s.Station] = s
	}
	for _, p := range truth.Photos {
		assert.Equal(t, p.Station+".jpg", p.Photo)
		assert.Equal(t, "plain-4", p.Spec)
		assert.InDelta(t, spots[p.Station].RightMM, p.Burn.Right, 0.1)
		assert.InDelta(t, spots[p.Station].UpMM, p.Burn.Up, 0.1)
	}
	assert.Len(t, f.bench.Fires(), 3)
}

func TestAFullDiskLeavesTheBenchAsItWas(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("this system has no /dev/full")
	}
	defer full.Close()
	bench := filepath.Join(t.TempDir(), "bench")
	_, talk, code := call("new", bench, "--seed", "3")
	require.Zero(t, code, talk)
	var errors bytes.Buffer
	assert.Equal(t, 6, run(nil, full, &errors, []string{"show", bench}))
	assert.Contains(t, errors.String(), "no space left on device")
}

// A state that cannot be written leaves the old one: the folder takes no new file.
func TestAStateThatCannotBeWrittenStaysWhole(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("nothing stops root from writing")
	}
	bench := filepath.Join(t.TempDir(), "bench")
	_, talk, code := call("new", bench, "--seed", "3")
	require.Zero(t, code, talk)
	before, err := os.ReadFile(filepath.Join(bench, stateName))
	require.NoError(t, err)
	require.NoError(t, os.Chmod(bench, 0o555))
	defer os.Chmod(bench, 0o755)
	_, _, code = call("turn", bench, "--screw", "1/A", "--turns", "0.1")
	assert.Equal(t, 6, code)
	after, err := os.ReadFile(filepath.Join(bench, stateName))
	require.NoError(t, err)
	assert.Equal(t, before, after)
}

// The reveal prints the true spots: those that the library gives.
func TestRevealPrintsTheTrueSpots(t *testing.T) {
	bench := filepath.Join(t.TempDir(), "bench")
	_, talk, code := call("new", bench, "--seed", "8", "--level", "hard")
	require.Zero(t, code, talk)
	text, _, code := call("show", bench, "--reveal")
	require.Zero(t, code)
	f, err := open(bench)
	require.NoError(t, err)
	for _, s := range f.bench.Spots() {
		assert.Contains(t, text, place(s))
	}
	plain, _, _ := call("show", bench)
	assert.NotContains(t, plain, "hidden")
	assert.False(t, math.IsNaN(f.bench.Spots()[0].RightMM))
}

// Many commands at once on one bench: every turn and every fire is in it afterwards,
// and the screw stands where all turns together take it.
func TestCommandsAtOnceLoseNothing(t *testing.T) {
	bench := filepath.Join(t.TempDir(), "bench")
	_, talk, code := call("new", bench, "--seed", "3")
	require.Zero(t, code, talk)
	const turns, fires = 12, 2
	var all sync.WaitGroup
	for range turns {
		all.Go(func() {
			_, talk, code := call("turn", bench, "--screw", "1/A", "--turns", "0.125")
			assert.Zero(t, code, talk)
		})
	}
	for i := range fires {
		all.Go(func() {
			_, talk, code := call("fire", bench, "-o", fmt.Sprint(bench, i), "--stations", "middle", "--megapixels", "1")
			assert.Zero(t, code, talk)
		})
	}
	all.Wait()
	f, err := open(bench)
	require.NoError(t, err)
	assert.Len(t, f.bench.Turns(), turns)
	assert.Len(t, f.bench.Fires(), fires)
	assert.Equal(t, turns*0.125, f.bench.Turned(0, 0))
}

// A bench in use is waited for, and that is said; looking at it waits for nobody.
func TestABenchInUseIsWaitedFor(t *testing.T) {
	bench := filepath.Join(t.TempDir(), "bench")
	_, talk, code := call("new", bench, "--seed", "3")
	require.Zero(t, code, talk)
	f, release, err := openToChange(t.Context(), terminal.Streams{Err: io.Discard}, bench)
	require.NoError(t, err)
	_, talk, code = call("show", bench)
	assert.Zero(t, code, talk)

	said, talking := io.Pipe()
	end := make(chan int)
	go func() {
		end <- run(strings.NewReader(""), io.Discard, talking, []string{"turn", bench, "--screw", "2/B", "--turns", "0.5"})
		talking.Close()
	}()
	line, err := bufio.NewReader(said).ReadString('\n')
	require.NoError(t, err)
	assert.Equal(t, "another rehearse works on "+bench+": waiting for it to end\n", line)
	go io.Copy(io.Discard, said)
	require.NoError(t, f.bench.Turn("1", "A", 0.25))
	require.NoError(t, f.save())
	release()
	assert.Zero(t, <-end)
	f, err = open(bench)
	require.NoError(t, err)
	assert.Equal(t, []rehearsal.Turn{{Mirror: "1", Screw: "A", Turns: 0.25}, {Mirror: "2", Screw: "B", Turns: 0.5}}, f.bench.Turns())

	waiting, giveUp := context.WithCancel(t.Context())
	_, release, err = openToChange(t.Context(), terminal.Streams{Err: io.Discard}, bench)
	require.NoError(t, err)
	defer release()
	giveUp()
	_, _, err = openToChange(waiting, terminal.Streams{Err: io.Discard}, bench)
	assert.ErrorIs(t, err, context.Canceled, "an interrupt ends the wait")
}

// What is hidden is printed with its own numbers, and by names that say what they are:
// aim and shift of beam and pointer, each mirror's tilt, shift, gains and play, lengths, twist.
func TestRevealPrintsAllThatIsHidden(t *testing.T) {
	p := machine.Default()
	f := rehearsal.NoFaults(p)
	f.Source = rehearsal.BeamFault{AimDeg: [2]float64{0.051, -0.012}, ShiftMM: [2]float64{0.31, -0.42}}
	f.Pointer = rehearsal.BeamFault{AimDeg: [2]float64{0.023, 0.034}, ShiftMM: [2]float64{1.21, -1.3}}
	f.Mirrors[1] = rehearsal.MirrorFault{TiltDeg: [2]float64{0.071, -0.082}, ShiftMM: [3]float64{0.11, -0.12, 0.13},
		ScrewFaults: rehearsal.ScrewFaults{Gain: [3]float64{0.91, 1.02, 1.13}, BacklashTurns: [3]float64{0.041, 0.042, 0.043}}}
	f.Legs = []float64{1.01, 0.98, 1.03, 0.96}
	f.TwistMM = -1e-9
	bench := rehearsal.Assemble(p, 1, f)
	whole := &page{bench: bench}
	whole.hidden()
	whole.spots()
	text := strings.Join(strings.Fields(whole.text.String()), " ")
	for _, part := range []string{
		"across the beam lie u, along 0 0 -1 of the machine, and v, along 0 -1 0",
		"what aim deg about u, v shift mm along u, v beam +0.051 -0.012 +0.31 -0.42 pointer, from the beam +0.023 +0.034 +1.21 -1.30",
		"mirror tilt deg about right, up shift mm right, up, normal screw gain A, B, C backlash turns A, B, C",
		"2 +0.071 -0.082 +0.11 -0.12 +0.13 0.910 1.020 1.130 0.041 0.042 0.043",
		"lengths, true over the profile's, from the source on: 1.0100 0.9800 1.0300 0.9600",
		"twist of the gantry at the far corner: +0.00 mm",
	} {
		assert.Contains(t, text, part)
	}
	assert.NotContains(t, text, "-0.00 ")

	// With its third mirror 9.3 mm aside the beam is clipped, at 14 mm aside it is gone,
	// and the pointer's dot with it.
	for shift, note := range map[float64]string{9.3: "clipped +0.00 +0.00", 14: "missing missing"} {
		f := rehearsal.NoFaults(p)
		f.Mirrors[2].ShiftMM[0] = shift
		cut := &page{bench: rehearsal.Assemble(p, 1, f)}
		cut.spots()
		assert.Equal(t, len(p.Stations), strings.Count(strings.Join(strings.Fields(cut.text.String()), " "), note))
	}
}
