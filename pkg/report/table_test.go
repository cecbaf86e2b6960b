package report

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the golden tables anew; read them before you commit them")

// assorted has one of everything that a table shows.
func assorted() []Measurement {
	plain := example()
	plain.Warnings = nil
	warned := example()
	warned.Photo.File = "front-right.jpg"
	warned.Offset = &Offset{RightMM: 1.873, UpMM: -0.0004, DistanceMM: 1.873, Clock: "3:00", Rings: 0.9365}
	warned.Uncertainty = &Uncertainty{RadiusMM: 0.314, Coverage: 0.95}
	warned.Verdict = &Verdict{LimitMM: 2, State: "borderline", Probability: 0.7942}
	wide := example()
	wide.Photo.File = "床の奥.jpg"
	wide.Mark = "pointer"
	wide.Offset = &Offset{RightMM: 2.5, UpMM: -4.25, DistanceMM: 4.930771, Clock: "5:00", Rings: 2.4653855}
	wide.Verdict = &Verdict{LimitMM: 2, State: "outside", Probability: 0}
	wide.Warnings = nil
	gone := Measurement{Photo: Photo{File: "absent.jpg"}, Mark: "burn", Status: Unreadable,
		Refusal: &Refusal{Code: "not-found", Text: "there is no such file: check the name"}}
	return []Measurement{plain, refused(), warned, wide, gone}
}

func table(t *testing.T, list []Measurement, units Units) string {
	var b bytes.Buffer
	require.NoError(t, WriteTable(&b, list, units))
	return b.String()
}

// The goldens were read by eye, line by line, against the numbers in assorted.
func TestTablesReadAsTheyShould(t *testing.T) {
	for _, units := range []Units{Millimetres, Inches} {
		isGolden(t, "table-"+string(units)+".txt", table(t, assorted(), units))
	}
}

// isGolden holds a text against a file of testdata, which -update writes anew.
func isGolden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), got)
}

// An ideograph takes two cells: the file's name of five characters takes ten less two.
func TestWideAndCombiningCharactersAreCountedInCells(t *testing.T) {
	for text, cells := range map[string]int{"abc": 3, "床の奥.jpg": 10, "e\u0301": 1, "ｗ": 2, "±": 1, "": 0} {
		assert.Equal(t, cells, cellsWide(text), text)
	}
}

func TestColumnsStartInTheSameCell(t *testing.T) {
	lines := strings.Split(table(t, assorted(), Millimetres), "\n")
	at := func(line, word string) int {
		before, _, found := strings.Cut(line, word)
		require.True(t, found, "%q in %q", word, line)
		return cellsWide(before)
	}
	verdict := at(lines[0], "verdict")
	assert.Equal(t, verdict, at(lines[1], "inside the"))
	for _, line := range lines {
		if strings.HasPrefix(line, "床") {
			assert.Equal(t, verdict, at(line, "outside the"))
		}
	}
}

// Unicode Standard Annex 11: each of these letters is wide, two cells.
func TestColumnsAreAlignedByCells(t *testing.T) {
	assert.Equal(t, "a       b\n左後 1  2\n", Columns([]string{"a", "b"}, []string{"左後 1", "2"}))
}

func TestNoNumbersNoNote(t *testing.T) {
	got := table(t, []Measurement{refused()}, Millimetres)
	assert.Contains(t, got, "refused: cut-off\n    the target is cut off at the left: step back\n")
	assert.NotContains(t, got, "±")
	assert.Empty(t, table(t, nil, Millimetres))
}

func TestUnknownUncertaintyIsSaid(t *testing.T) {
	m := example()
	m.Uncertainty = nil
	assert.Contains(t, table(t, []Measurement{m}, Millimetres), "0.97 ± unknown")
	m.Offset.RightMM = math.NaN()
	assert.Contains(t, table(t, []Measurement{m}, Millimetres), "unknown")
}

func TestStrangeNamesDoNotSteerTheTerminal(t *testing.T) {
	m := refused()
	m.Photo.File = "a\x1b[31m\nb\u202e.jpg"
	m.Refusal.Text = "line\nbreak"
	got := table(t, []Measurement{m}, Millimetres)
	assert.NotContains(t, got, "\x1b")
	assert.NotContains(t, got, "\u202e")
	assert.Equal(t, 3, strings.Count(got, "\n"))
}
