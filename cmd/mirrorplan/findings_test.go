package main

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every code of a finding that the planner writes stands in `help findings`.
func TestEveryFindingIsExplained(t *testing.T) {
	sources, err := filepath.Glob("../../pkg/plan/*.go")
	require.NoError(t, err)
	code := regexp.MustCompile(`Code:\s+"([a-z-]{4,})"`)
	found := 0
	for _, path := range sources {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		for _, m := range code.FindAllStringSubmatch(string(data), -1) {
			assert.Regexp(t, `(?m)^  `+m[1]+` `, findingsText, "%s in %s", m[1], path)
			found++
		}
	}
	assert.GreaterOrEqual(t, found, 5)
}
