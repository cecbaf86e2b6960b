package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// replaceOnce replaces a part that must be there exactly once.
func replaceOnce(t *testing.T, text, old, new string) string {
	t.Helper()
	require.Equal(t, 1, strings.Count(text, old), "%q in the document", old)
	return strings.Replace(text, old, new, 1)
}

func plan(name, text string) output {
	return output{Kind: kindPlans, Name: name, JSON: true, Text: text}
}

func TestTheTableCountsAndNamesWhatDiffers(t *testing.T) {
	old := []output{plan("a", `{"x": 1}`), plan("b", `{"x": 1, "y": 1}`), plan("gone", `{}`), {Kind: kindFired, Name: "p.jpg", Text: "sha256 1"}}
	new := []output{plan("b", `{"x": 2, "y": 2}`), plan("a", `{"x": 1}`), plan("more", `{}`), {Kind: kindFired, Name: "p.jpg", Text: "sha256 2"}}
	table := newTable()
	require.NoError(t, table.add(old, new))
	var out bytes.Buffer
	assert.False(t, table.write(&out))
	assert.Equal(t, `photos fired               0 same, 1 differ
  p.jpg: sha256 1, now sha256 2
plans                      1 same, 3 differ
  b: x: 1, now 2; 1 more
  gone: the new build gave none
  more: the old build gave none
`, out.String())
}

func TestOnlyTheFirstFewAreNamed(t *testing.T) {
	table := newTable()
	for i := range mostNamed + 2 {
		require.NoError(t, table.add([]output{plan(fmt.Sprint(i), `1`)}, []output{plan(fmt.Sprint(i), `2`)}))
	}
	var out bytes.Buffer
	assert.False(t, table.write(&out))
	assert.Len(t, strings.Split(strings.TrimSpace(out.String()), "\n"), 1+mostNamed+1)
	assert.Contains(t, out.String(), "  and 2 more\n")
}

// builds are two folders with a program each, which differ in one byte.
func builds(t *testing.T) (out [2]*build) {
	t.Helper()
	for i, side := range []string{"old", "new"} {
		folder := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(folder, burngauge), []byte(side), 0o755))
		b, err := newBuild(side, folder, "")
		require.NoError(t, err)
		out[i] = b
	}
	return out
}

func TestWhatIsKeptIsNotDoneAgainAndBelongsToItsProgram(t *testing.T) {
	sides := builds(t)
	w := &work{scratch: t.TempDir(), store: store{t.TempDir()}, progress: new(bytes.Buffer)}
	calls := make(chan string, 10)
	s := sample{name: "s", input: "s", programs: []string{burngauge}, run: func(_ context.Context, b *build, _ string) ([]output, error) {
		calls <- b.side
		return []output{plan("p", `{"of": "`+b.side+`"}`)}, nil
	}}
	for turn := range 2 {
		table := newTable()
		require.NoError(t, w.all(context.Background(), []sample{s}, sides, table))
		assert.Equal(t, []string{`p: of: "old", now "new"`}, table.differ[kindPlans], "turn %d", turn)
	}
	assert.Len(t, calls, 2, "each side once")
	s.input = "another"
	require.NoError(t, w.all(context.Background(), []sample{s}, sides, newTable()))
	assert.Len(t, calls, 4, "another input is other work")
}

func TestAFailureEndsTheComparison(t *testing.T) {
	w := &work{scratch: t.TempDir(), progress: new(bytes.Buffer)}
	fault := errors.New("fault")
	s := sample{name: "s", run: func(context.Context, *build, string) ([]output, error) { return nil, fault }}
	assert.ErrorIs(t, w.all(context.Background(), []sample{s}, builds(t), newTable()), fault)
	s.programs = []string{mirrorplan}
	assert.ErrorContains(t, w.all(context.Background(), []sample{s}, builds(t), newTable()), "build has no mirrorplan")
}

func TestABuildsOwnFixturesOverrideTheOther(t *testing.T) {
	folder, other := t.TempDir(), filepath.Join(t.TempDir(), fixtures)
	require.NoError(t, os.WriteFile(filepath.Join(folder, burngauge), nil, 0o755))
	require.NoError(t, os.WriteFile(other, nil, 0o755))
	b, err := newBuild("old", folder, other)
	require.NoError(t, err)
	assert.Equal(t, other, b.path[fixtures])
	require.NoError(t, os.WriteFile(filepath.Join(folder, fixtures), nil, 0o755))
	b, err = newBuild("old", folder, other)
	require.NoError(t, err)
	assert.Equal(t, filepath.Join(folder, fixtures), b.path[fixtures])
}

func TestAFolderWithoutProgramsIsAnError(t *testing.T) {
	_, err := newBuild("old", t.TempDir(), "")
	assert.ErrorContains(t, err, "holds none of the programs")
	other := filepath.Join(t.TempDir(), fixtures)
	require.NoError(t, os.WriteFile(other, nil, 0o755))
	_, err = newBuild("old", t.TempDir(), other)
	assert.ErrorContains(t, err, "holds none of the programs", "another's fixtures are not its own")
}
