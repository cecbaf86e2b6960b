package command

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
)

func TestATableKeepsItsColumnAndItsWidth(t *testing.T) {
	long := strings.Repeat("± word ", 30)
	lines := strings.Split(Table([2]string{"a", "short"}, [2]string{"code", long}), "\n")
	assert.Equal(t, "  a     short", lines[0])
	assert.Equal(t, "  code  ± word", lines[1][:len("  code  ± word")])
	words := 0
	for _, line := range lines[1:] {
		assert.LessOrEqual(t, utf8.RuneCountInString(line), HelpWidth)
		assert.True(t, strings.HasPrefix(line, "  code  ") || strings.HasPrefix(line, strings.Repeat(" ", 8)), line)
		words += strings.Count(line, "word")
	}
	assert.Equal(t, 30, words)
}

func TestAWordLongerThanTheColumnStaysWhole(t *testing.T) {
	word := strings.Repeat("x", 2*HelpWidth)
	assert.Equal(t, "  a  "+word+"\n     y", Table([2]string{"a", word + " y"}))
}
