package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// top is the project's own folder.
const top = "../.."

// mapRow is a line of the map in DEVELOPERS.md.
type mapRow struct {
	folder  string
	imports []string // folders
}

// mapRows reads the map.
func mapRows(t *testing.T) (out []mapRow) {
	t.Helper()
	document, err := os.ReadFile(filepath.Join(top, "DEVELOPERS.md"))
	require.NoError(t, err)
	_, after, found := strings.Cut(string(document), "## The map\n")
	require.True(t, found)
	section, _, _ := strings.Cut(after, "\n## ")
	for _, cells := range regexp.MustCompile("(?m)^\\| `([^`]+)` \\| [^|]+ \\| ([^|]+) \\|$").FindAllStringSubmatch(section, -1) {
		row := mapRow{folder: cells[1]}
		if cells[2] != "-" {
			for name := range strings.SplitSeq(cells[2], ", ") {
				row.imports = append(row.imports, "pkg/"+name)
			}
		}
		out = append(out, row)
	}
	return out
}

// importsOfOurs asks the go command what each of our packages imports of ours,
// tests aside.
func importsOfOurs(t *testing.T) map[string][]string {
	t.Helper()
	const ours = "burngauge.dev/burngauge/"
	list := exec.Command("go", "list", "-tags=gocv_specific_modules", "-f", `{{.ImportPath}} {{join .Imports " "}}`, "./...")
	list.Dir = top
	output, err := list.Output()
	require.NoError(t, err)
	out := map[string][]string{}
	for line := range strings.Lines(string(output)) {
		var folders []string
		for _, path := range strings.Fields(line) {
			if folder, own := strings.CutPrefix(path, ours); own {
				folders = append(folders, folder)
			}
		}
		out[folders[0]] = slices.Sorted(slices.Values(folders[1:]))
	}
	return out
}

// scripts are the files of the folder scripts, which import nothing.
func scripts(t *testing.T) (out []string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Join(top, "scripts"))
	require.NoError(t, err)
	for _, entry := range entries {
		if !entry.IsDir() {
			out = append(out, "scripts/"+entry.Name())
		}
	}
	return out
}

func TestTheMapIsThatOfTheImports(t *testing.T) {
	there := importsOfOurs(t)
	for _, script := range scripts(t) {
		there[script] = nil
	}
	rows := mapRows(t)
	listed := map[string]bool{}
	for i, row := range slices.Backward(rows) {
		imports, exists := there[row.folder]
		assert.True(t, exists, "the map lists %s, which is not there", row.folder)
		assert.ElementsMatch(t, imports, row.imports, "imports of %s; the map's are the second list", row.folder)
		for _, folder := range imports {
			assert.True(t, listed[folder], "row %d: %s imports %s, which does not stand below it", i+1, row.folder, folder)
		}
		assert.False(t, listed[row.folder], "%s stands twice in the map", row.folder)
		listed[row.folder] = true
	}
	for folder := range there {
		assert.True(t, listed[folder], "%s is missing from the map", folder)
	}
}

// One file of the programs calls OpenCV; the other only takes the time that
// OpenCV needs by itself.
func TestOpenCVIsCalledInOneFile(t *testing.T) {
	var callers []string
	for _, folder := range []string{"cmd", "pkg", "scripts"} {
		err := filepath.WalkDir(filepath.Join(top, folder), func(path string, _ fs.DirEntry, err error) error {
			if err != nil || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
				return err
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
			if err != nil {
				return err
			}
			for _, spec := range file.Imports {
				if strings.HasPrefix(spec.Path.Value, `"gocv.io/`) {
					callers = append(callers, strings.TrimPrefix(filepath.ToSlash(path), top+"/"))
				}
			}
			return nil
		})
		require.NoError(t, err)
	}
	assert.Equal(t, []string{"pkg/photo/opencv.go", "scripts/decodeonly/main.go"}, callers)
}

// linkedModules are the modules of others that the three programs are built of.
func linkedModules(t *testing.T) []string {
	t.Helper()
	list := exec.Command("go", "list", "-tags=gocv_specific_modules", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}{{end}}{{end}}",
		"./cmd/burngauge", "./cmd/mirrorplan", "./cmd/rehearse")
	list.Dir = top
	output, err := list.Output()
	require.NoError(t, err)
	modules := strings.Fields(string(output))
	slices.Sort(modules)
	return slices.Compact(modules)
}

func TestTheNoticeNamesEveryLinkedModuleAndNoOther(t *testing.T) {
	notice, err := os.ReadFile(filepath.Join(top, "NOTICE"))
	require.NoError(t, err)
	_, table, found := strings.Cut(string(notice), "\n  module ")
	require.True(t, found)
	var named []string
	for _, row := range regexp.MustCompile(`(?m)^  (\S+\.\S+/\S+)  +\S.*$`).FindAllStringSubmatch(table, -1) {
		named = append(named, row[1])
	}
	assert.Equal(t, linkedModules(t), named)
}
