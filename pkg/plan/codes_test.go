package plan

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sources are the package's own files without tests, parsed.
func sources(t *testing.T) (list []*ast.File) {
	t.Helper()
	paths, err := filepath.Glob("*.go")
	require.NoError(t, err)
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		file, err := parser.ParseFile(token.NewFileSet(), path, text, 0)
		require.NoError(t, err)
		list = append(list, file)
	}
	return list
}

// Every code of a finding, and every status, is a constant of the package and stands in
// the list from which the help is printed; and the lists have nothing else.
func TestEveryCodeIsExplainedOnce(t *testing.T) {
	constants, used := map[string]string{}, 0
	for _, file := range sources(t) {
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.ValueSpec:
				for i, name := range n.Names {
					if i < len(n.Values) && (strings.HasPrefix(name.Name, "Code") || strings.HasPrefix(name.Name, "Status")) {
						constants[name.Name] = strings.Trim(n.Values[i].(*ast.BasicLit).Value, `"`)
					}
				}
			case *ast.KeyValueExpr:
				if key, ok := n.Key.(*ast.Ident); ok && key.Name == "Code" {
					name, isConstant := n.Value.(*ast.Ident)
					assert.True(t, isConstant && strings.HasPrefix(name.Name, "Code"), "a finding's code is a constant of codes.go")
					used++
				}
			}
			return true
		})
	}
	for prefix, list := range map[string][]Explained{"Code": FindingCodes(), "Status": Statuses()} {
		var want, got []string
		for name, word := range constants {
			if strings.HasPrefix(name, prefix) {
				want = append(want, word)
			}
		}
		for _, e := range list {
			got = append(got, e.Word)
			assert.NotEmpty(t, e.Text)
		}
		assert.ElementsMatch(t, want, got)
	}
	assert.Equal(t, len(FindingCodes()), used, "each code is given at one place")
}

// The keys that are explained are those of the type that is written.
func TestEveryKeyIsExplainedOnce(t *testing.T) {
	var want, got []string
	var walk func(t reflect.Type, before string)
	walk = func(t reflect.Type, before string) {
		for i := range t.NumField() {
			f := t.Field(i)
			key := before + f.Tag.Get("json")
			want = append(want, key)
			if f.Type.Kind() == reflect.Slice && f.Type.Elem().Kind() == reflect.Struct {
				walk(f.Type.Elem(), key+".")
			}
		}
	}
	walk(reflect.TypeFor[Plan](), "")
	for _, e := range Keys() {
		got = append(got, e.Word)
	}
	assert.Equal(t, want, got)
}
