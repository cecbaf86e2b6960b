package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// odd are words that readers whose first language is another stumble over. Say
// state, say, show, measure, detect, distinguish or know; askew; wrong; overrides; is
// better than. They are spelt in two parts, so that this file does not hold them.
var odd = regexp.MustCompile(`(?i:\b(te` + `lls?|to` + `ld|asl` + `ant|ami` + `ss|goes be` + `fore|bet` + `ters)\b)|[a-z]To` + `ld|Te` + `ll(s|[A-Z])`)

// plainSpoken are the folders that hold to it: everything that people write and read.
var plainSpoken = []string{"README.md", "DEVELOPERS.md", "NOTICE", ".ci", "cmd", "fixtures", "pkg", "scripts"}

// readBy reports whether people read the file: sources, documents, scripts, templates
// and what is kept of the programs' outputs.
func readBy(path string) bool {
	switch filepath.Ext(path) {
	case ".go", ".md", ".txt", ".txtar", ".sh", ".yaml", ".tmpl", ".html", ".css", ".svg", ".golden", ".csv", ".json", "":
		return true
	}
	return false
}

func TestTheWordsArePlain(t *testing.T) {
	var lines []string
	for _, start := range plainSpoken {
		err := filepath.WalkDir(filepath.Join(top, start), func(path string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() || !readBy(path) {
				return err
			}
			data, err := os.ReadFile(path)
			for i, line := range strings.Split(string(data), "\n") {
				if word := odd.FindString(line); word != "" {
					lines = append(lines, fmt.Sprintf("%s:%d: %q", strings.TrimPrefix(path, top+"/"), i+1, word))
				}
			}
			return err
		})
		require.NoError(t, err)
	}
	assert.Empty(t, lines)
}

func TestAnOddWordIsFoundWhereverItStands(t *testing.T) {
	for _, line := range []string{"It te" + "lls.", "To" + "ld", "seen asl" + "ant", "func TestItIsTo" + "ldOnce", "names.Te" + "llsNothing()"} {
		assert.Regexp(t, odd, line)
	}
	for _, line := range []string{"a satellite", "ErrNotEllipse", "intelligible", "better", "a storyteller", "goes on before"} {
		assert.NotRegexp(t, odd, line)
	}
}
