package photoset

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestASpecFileInTheFolderOverridesABuiltIn(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "shop.yaml"), nil, 0o644))
	assert.Equal(t, filepath.Join(dir, "shop.yaml"), Target(dir, "shop"))
	assert.Equal(t, filepath.Join(dir, "shop.yaml"), Target(dir, "shop.yaml"))
	assert.Equal(t, "plain-4", Target(dir, "plain-4"))
}

func TestTruthThatWouldBeLeftOutIsAnError(t *testing.T) {
	for text, want := range map[string]string{
		`{"photos":[]}`: "lists no photos",
		`{"photos":[{"photo":"a.jpg","expect":"maybe","mark":"burn"}]}`:                    "expect is",
		`{"photos":[{"photo":"a.jpg","expect":"measure","mark":"dot"}]}`:                   "mark is",
		`{"photos":[{"photo":"a.jpg","expect":"measure","mark":"burn"}]}`:                  "states none",
		`{"photos":[{"photo":"a.jpg","expect":"either","mark":"burn","refusal":"glare"}]}`: "names the refusal glare",
	} {
		dir := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(dir, "truth.json"), []byte(text), 0o644))
		_, err := Read(dir)
		assert.ErrorContains(t, err, want)
	}
}

func TestBatchesHoldWhatOneCallCanMeasureInTheOrderOfTheTruth(t *testing.T) {
	photos := []Photo{{File: "a", Spec: "pair", Mark: "burn"}, {File: "b", Spec: "pair", Mark: "both"}, {File: "c", Spec: "pair", Mark: "burn"}, {File: "d", Spec: "single", Mark: "burn"}}
	var got [][]string
	for _, b := range Batches("set", photos) {
		got = append(got, append([]string{b.Spec, b.Mark}, b.Paths()...))
	}
	assert.Equal(t, [][]string{{"pair", "burn", "set/a", "set/c"}, {"pair", "both", "set/b"}, {"single", "burn", "set/d"}}, got)
}

func TestSplitLosesNoPhoto(t *testing.T) {
	b := Batch{Spec: "pair", Photos: []Photo{{File: "a"}, {File: "b"}, {File: "c"}, {File: "d"}, {File: "e"}}}
	var sizes []int
	var files string
	for _, part := range Split([]Batch{b}, 2) {
		assert.Equal(t, "pair", part.Spec)
		sizes = append(sizes, len(part.Photos))
		for _, p := range part.Photos {
			files += p.File
		}
	}
	assert.Equal(t, []int{2, 2, 1}, sizes)
	assert.Equal(t, "abcde", files)
}

func TestAPhotoOfBothMarksGivesTwoMeasurements(t *testing.T) {
	burn, pointer := &Mark{RightMM: 3, UpMM: 4}, &Mark{RightMM: 1}
	p := Photo{Mark: "both", Burn: burn, Pointer: pointer}
	assert.Equal(t, []string{"burn", "pointer"}, p.Marks())
	assert.Same(t, burn, p.Truth("burn"))
	assert.Same(t, pointer, p.Truth("pointer"))
	assert.Equal(t, 5.0, burn.Distance(), "a 3-4-5 triangle")
}

// A program that prints its arguments stands for burngauge.
func TestMeasureNamesTargetMarkFlagsAndPhotos(t *testing.T) {
	bin := filepath.Join(t.TempDir(), "program")
	require.NoError(t, os.WriteFile(bin, []byte("#!/bin/sh\necho \"$@\"\nexit 3\n"), 0o755))
	b := Batch{Folder: "set", Spec: "pair", Mark: "both", Photos: []Photo{{File: "a.jpg"}}}
	out, code, err := b.Measure(t.Context(), bin, "--explain")
	require.NoError(t, err)
	assert.Equal(t, SomeNotMeasured, code)
	assert.Equal(t, "measure --json --target pair --mark both --explain -- set/a.jpg\n", string(out))
	require.NoError(t, os.WriteFile(bin, []byte("#!/bin/sh\necho a fault >&2\nexit 1\n"), 0o755))
	_, _, err = b.Measure(t.Context(), bin)
	assert.ErrorContains(t, err, "measuring both on pair: exit status 1: a fault")
}
