package caution

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What IEC TR 60825-14 and the trade ask to be said; the words are ours.
func TestLinesNameEveryDanger(t *testing.T) {
	text := strings.Join(Lines(), "\n")
	for _, word := range []string{"Class 4", "interlock", "trained", "maker", "switched to safe", "cannot be seen", "10 600 nm", "last barrier", "Coolant", "extinguisher", "Extraction", "chlorinated"} {
		assert.Contains(t, text, word)
	}
}

func TestTextKeepsItsWidthAndEveryWord(t *testing.T) {
	const width = 84
	text := Text(width)
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, len([]rune(line)), width)
		assert.True(t, strings.HasPrefix(line, "  "), line)
	}
	assert.Equal(t, strings.Fields(strings.Join(Lines(), " ")), strings.Fields(text))
}
