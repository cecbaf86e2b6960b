package main

import (
	"go/ast"
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

// declared is what the sources declare, tests among them.
type declared struct {
	in      map[string]map[string]bool // names by package, and members by type
	names   map[string]bool            // all of them
	files   map[string]bool            // sources, without their folder
	strings string                     // all string literals, and the scripts
}

func (d *declared) add(owner, name string) {
	if d.in[owner] == nil {
		d.in[owner] = map[string]bool{}
	}
	d.in[owner][name] = true
	d.names[name] = true
}

// declarations reads every source of the project.
func declarations(t *testing.T) *declared {
	t.Helper()
	d := &declared{in: map[string]map[string]bool{}, names: map[string]bool{}, files: map[string]bool{}}
	var text strings.Builder
	for _, folder := range []string{"cmd", "pkg", "scripts"} {
		err := filepath.WalkDir(filepath.Join(top, folder), func(path string, entry fs.DirEntry, err error) error {
			switch {
			case err != nil || entry.IsDir():
				return err
			case filepath.Ext(path) == ".go":
				d.files[entry.Name()] = true
				file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
				if err == nil {
					d.read(file, &text)
				}
				return err
			case filepath.Ext(path) == "" || filepath.Ext(path) == ".sh":
				script, err := os.ReadFile(path)
				text.Write(script)
				return err
			}
			return nil
		})
		require.NoError(t, err)
	}
	d.strings = text.String()
	return d
}

// read takes in what a file declares, and its string literals.
func (d *declared) read(file *ast.File, text *strings.Builder) {
	pack := file.Name.Name
	d.names[pack] = true
	for _, decl := range file.Decls {
		if f, ok := decl.(*ast.FuncDecl); ok {
			d.add(pack, f.Name.Name)
			if f.Recv != nil {
				d.add(receiver(f.Recv.List[0].Type), f.Name.Name)
			}
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.TypeSpec:
			d.add(pack, n.Name.Name)
			d.members(n)
		case *ast.ValueSpec:
			for _, name := range n.Names {
				d.add(pack, name.Name)
			}
		case *ast.BasicLit:
			if n.Kind == token.STRING {
				text.WriteString(n.Value + "\n")
			}
		}
		return true
	})
}

// members are a type's fields, or its methods when it is an interface.
func (d *declared) members(spec *ast.TypeSpec) {
	var list *ast.FieldList
	switch kind := spec.Type.(type) {
	case *ast.StructType:
		list = kind.Fields
	case *ast.InterfaceType:
		list = kind.Methods
	default:
		return
	}
	for _, field := range list.List {
		for _, name := range field.Names {
			d.add(spec.Name.Name, name.Name)
		}
	}
}

func receiver(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.StarExpr:
		return receiver(e.X)
	case *ast.IndexExpr:
		return receiver(e.X)
	case *ast.Ident:
		return e.Name
	}
	return ""
}

// outside are names of other people's code and of files' formats that the book uses.
var outside = []string{"Mat", "remap", "os.Stderr", "gocv", "DataPtrUint8", "bench.json", "job.yaml", "IMReadIgnoreOrientation", "defer"}

// knows reports whether a word in code letters is in the project: a file or folder, a
// name that it declares (with what stands before its dot), or a word that it writes.
func (d *declared) knows(word string) bool {
	word = strings.TrimSuffix(word, "()")
	if slices.Contains(outside, word) {
		return true
	}
	if _, err := os.Stat(filepath.Join(top, word)); err == nil || d.files[word] {
		return true
	}
	if parts := strings.Split(word, "."); len(parts) == 2 && d.names[parts[0]] {
		return d.in[parts[0]][parts[1]] || strings.Contains(d.strings, `"`+word+`"`) // a setting, by its decision's name
	}
	return d.names[word] || strings.Contains(d.strings, word)
}

// A book that names what is gone sends its reader on a search.
func TestTheCodeNamesInTheBookExist(t *testing.T) {
	document, err := os.ReadFile(filepath.Join(top, "DEVELOPERS.md"))
	require.NoError(t, err)
	d := declarations(t)
	seen := 0
	for _, found := range regexp.MustCompile("`([^`\n]+)`").FindAllStringSubmatch(string(document), -1) {
		word := found[1]
		if strings.ContainsAny(word, " =|$") || strings.HasPrefix(word, "-") || strings.Contains(word, "NAME") {
			continue // a command, a flag, a pattern
		}
		seen++
		assert.True(t, d.knows(word), "`%s` is nowhere in the sources", word)
	}
	assert.Greater(t, seen, 100)
	for _, drawing := range regexp.MustCompile("(?s)```\n(.*?)```").FindAllStringSubmatch(string(document), -1) {
		for _, name := range regexp.MustCompile(`\b[a-z]+\.[A-Z]\w*`).FindAllString(drawing[1], -1) {
			assert.True(t, d.knows(name), "%s, in a drawing, is nowhere in the sources", name)
		}
	}
}

// What the book shows below a command is what that prints today, in the project's
// folder.
func TestTheBooksOutputsAreThoseOfItsCommands(t *testing.T) {
	document, err := os.ReadFile(filepath.Join(top, "DEVELOPERS.md"))
	require.NoError(t, err)
	t.Chdir(top)
	blocks := pastedIn(string(document))
	require.NotEmpty(t, blocks)
	for _, b := range blocks {
		var printed string
		if words := strings.Fields(b.command); words[0] == "burngauge" {
			printed, _, _ = call(words[1:]...) // a refused photo fails, and is explained
		} else {
			out, err := exec.Command("sh", "-c", b.command).Output()
			require.NoError(t, err, b.command)
			lines := strings.SplitAfter(string(out), "\n")
			slices.Sort(lines) // a search comes in the folder's order
			printed = strings.TrimPrefix(strings.Join(lines, ""), "\n")
		}
		assert.Empty(t, differs(b.output, withoutBlankEnd(strings.Split(printed, "\n"))), "DEVELOPERS.md is stale below $ "+b.command)
	}
}
