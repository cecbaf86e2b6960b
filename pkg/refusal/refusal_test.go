package refusal_test

import (
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/refusal"
)

// declared are the codes that the source declares, as go/parser reads them.
func declared(t *testing.T) []refusal.Code {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "refusal.go", nil, 0)
	require.NoError(t, err)
	var out []refusal.Code
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok {
			return true
		}
		if typ, ok := spec.Type.(*ast.Ident); ok && typ.Name == "Code" {
			code, err := strconv.Unquote(spec.Values[0].(*ast.BasicLit).Value)
			require.NoError(t, err)
			out = append(out, refusal.Code(code))
		}
		return true
	})
	return out
}

func TestEveryCodeIsListedOnceWithItsMeaning(t *testing.T) {
	var listed []refusal.Code
	for _, e := range refusal.All() {
		listed = append(listed, e.Code)
		assert.NotEmpty(t, e.Meaning, e.Code)
		assert.NotEmpty(t, e.Remedy, e.Code)
	}
	assert.ElementsMatch(t, declared(t), listed)
}

func TestARefusalIsFoundInAWrappedError(t *testing.T) {
	err := fmt.Errorf("measuring: %w", refusal.New(refusal.Glare, "turn the lamp"))
	var r *refusal.Refusal
	require.True(t, errors.As(err, &r))
	assert.Equal(t, refusal.Glare, r.Code)
	assert.Equal(t, "glare: turn the lamp", r.Error())
}
